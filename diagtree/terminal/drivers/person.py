"""A person at a terminal: questions printed, answers typed at one line."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.face import Block, Look
from diagtree.terminal.screen import Screen

if TYPE_CHECKING:
    from rich.text import Text


class TerminalFace:
    """Screen and keyboard of one terminal."""

    def __init__(self, screen: Screen) -> None:
        self._screen = screen
        self._early = ""  # an answer typed while a long list of answers was still being read

    @property
    def narrow(self) -> bool:
        return self._screen.narrow

    def show(self, blocks: Iterable[Block]) -> None:
        """Print blocks; what would scroll away unread, cautions above all, comes page by page."""
        blocks = list(blocks)
        room = max(self._screen.size[1] - 2, 4)  # the line that is typed at, and one to wrap into
        lines = list(self._screen.lines(blocks))
        if len(lines) > room:
            asked = next((place for place, block in enumerate(blocks) if block.look is Look.ASK), len(blocks))
            for page in _pages(list(self._screen.lines(blocks[:asked])), room):
                self._screen.print(page)
                self._read_on()
            *pages, lines = _pages(list(self._screen.lines(blocks[asked:])), room) or [[]]
            may_answer = any(block.look is Look.OPTION for block in blocks) and not any(
                block.look is Look.DANGER for block in blocks
            )
            for page in pages:
                self._screen.print(page)
                if may_answer and self._answered_early():
                    return
                if not may_answer:
                    self._read_on()
        self._screen.print(lines)

    def ask(self, label: str) -> str:
        if self._early:
            early, self._early = self._early, ""
            return early
        # The line editor is loaded while the first question is being read: it takes as long as all else together.
        from diagtree.terminal.keyboard import ask_line

        if len(label) > self._screen.size[0] - 14:  # leave room to type
            self._screen.show([Block(Look.ASK, label)])
            label = ""
        return ask_line(self._screen.fit(label))

    def _answered_early(self) -> bool:
        self._early = self.ask("Answer, or Enter for more")
        return bool(self._early)

    def _read_on(self) -> None:
        if self.ask("Enter to read on"):
            self._screen.show([Block(Look.REFUSED, "Not taken: the question comes first.", "! ")])


def _pages(lines: list[Text], room: int) -> list[list[Text]]:
    """Return lines as pages of about the same length, none longer than `room`."""
    count = -(-len(lines) // room)
    size = -(-len(lines) // count) if count else 0
    return [lines[start : start + size] for start in range(0, len(lines), size)] if count else []


def driver() -> Dialogue:
    """Return the driver that asks a person at this terminal."""
    return Dialogue(TerminalFace(Screen(sys.stdout)))
