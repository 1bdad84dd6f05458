"""The one module that knows rich: blocks on a screen, wrapped to its width, with nothing said by colour alone."""

from __future__ import annotations

import shutil
from collections.abc import Iterable, Iterator
from typing import TextIO

from rich.console import Console
from rich.text import Text

from diagtree.terminal.face import Block, Look
from diagtree.terminal.text import ascii_only, fits, visible

_STYLES = {
    Look.HEADING: "bold",
    Look.TOLD: "green",
    Look.CAUTION: "bold yellow",
    Look.ABOUT: "",
    Look.HOW: "",
    Look.ASK: "bold",
    Look.OPTION: "",
    Look.DANGER: "bold",
    Look.KEYS: "dim",
    Look.SAID: "cyan",
    Look.REFUSED: "bold red",
}
_NARROWEST, _WIDEST = 40, 120
_LONG_KEYS_FROM = 76  # columns that the long key line takes


class Screen:
    """A terminal that is written on from top to bottom."""

    def __init__(self, out: TextIO) -> None:
        self._out = out
        encoding = (out.encoding or "utf-8").lower()
        self.unicode = encoding.replace("-", "").startswith("utf")
        # No markup: square brackets in people's text are text. No highlighting: colours mean something or are absent.
        self._console = Console(
            file=out, markup=False, emoji=False, highlight=False, force_terminal=None, legacy_windows=False
        )

    @property
    def size(self) -> tuple[int, int]:
        """Return columns (40 to 120) and rows of the terminal as it is now."""
        columns, rows = shutil.get_terminal_size((80, 24))
        return min(max(columns, _NARROWEST), _WIDEST), rows

    @property
    def narrow(self) -> bool:
        """Tell whether the long key line would not fit on one line."""
        return self.size[0] < _LONG_KEYS_FROM

    def lines(self, blocks: Iterable[Block]) -> Iterator[Text]:
        """Give the blocks as lines no wider than the screen; what stands before a block indents all its lines."""
        width, _ = self.size
        last: Look | None = None
        for block in blocks:
            if block.look is Look.HEADING:
                yield Text(("─" if self.unicode else "-") * width, style="dim")
            if block.look is Look.ASK and last not in (None, Look.HEADING) and not self.narrow:
                yield Text()  # where there is room, the question stands apart
            last = block.look
            style = _STYLES[block.look]
            said = block.text.lstrip(" ")  # blanks before the words indent all lines too
            first = visible(block.first) + " " * (len(block.text) - len(said))
            indent = len(first) if len(first) <= width // 3 else 2
            text = Text(self.fit(f"{first}{said}" if indent != len(first) else said), style=style)
            for number, line in enumerate(text.wrap(self._console, width - indent)):
                before = first if number == 0 and indent == len(first) else " " * indent
                yield Text.assemble((before, style), line)

    def show(self, blocks: Iterable[Block]) -> None:
        """Print blocks."""
        self.print(self.lines(blocks))

    def print(self, lines: Iterable[Text]) -> None:
        """Print lines that `lines` made."""
        for line in lines:
            self._console.print(line, no_wrap=True, overflow="ignore", crop=False, soft_wrap=True)

    def fit(self, text: str) -> str:
        """Return text as this screen can carry it, control characters made visible."""
        shown = visible(text)
        return fits(shown, self._out.encoding or "utf-8") if self.unicode else ascii_only(shown)
