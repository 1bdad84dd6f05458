"""A program in a terminal of its own: keys in, the screen out as a person would see it."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pexpect
import pyte


class Terminal:
    """One program in a terminal of `columns` by `rows`."""

    def __init__(
        self, arguments: list[str], *, columns: int = 80, rows: int = 24, env: dict[str, str] | None = None
    ) -> None:
        self.screen = pyte.HistoryScreen(columns, rows, history=5000, ratio=1)
        self._stream = pyte.Stream(self.screen)
        self.raw = ""
        settings = {"TERM": "xterm-256color", "PROMPT_TOOLKIT_NO_CPR": "1", "COLUMNS": "", "LINES": ""}
        whole = {key: value for key, value in (os.environ | settings | (env or {})).items() if value != ""}
        self.child = pexpect.spawn(
            sys.executable, arguments, env=whole, dimensions=(rows, columns), encoding="utf-8",
            codec_errors="replace", cwd=str(Path(__file__).parents[2]),
        )  # fmt: skip
        self.child.delaybeforesend = None

    @property
    def lines(self) -> list[str]:
        """What stands on the screen now, without blanks at the ends."""
        return [line.rstrip() for line in self.screen.display]

    @property
    def text(self) -> str:
        """Everything that was ever on the screen, from the top."""
        width = self.screen.columns
        past = ["".join(line[column].data for column in range(width)).rstrip() for line in self.screen.history.top]
        return "\n".join([*past, *self.lines])

    def wait(self, until: Callable[[Terminal], bool], seconds: float = 20) -> None:
        """Read until something is so; fail with the screen where it does not come."""
        end = time.monotonic() + seconds
        while not until(self):
            if time.monotonic() > end:
                raise AssertionError("did not come; the screen:\n" + "\n".join(self.lines))
            self._read(0.05)

    def wait_for(self, text: str, seconds: float = 20) -> None:
        """Read until `text` stands on the last written line: the place where something is typed."""
        self.wait(lambda terminal: text in terminal.last, seconds)
        self._read(0.15)  # the line editor is ready a moment after its line stands there

    @property
    def last(self) -> str:
        """The last line of the screen that holds something."""
        return next((line for line in reversed(self.lines) if line), "")

    def send(self, keys: str) -> None:
        """Press keys."""
        self.child.send(keys)

    def answer(self, keys: str, then: str) -> None:
        """Press keys and Enter, then wait for the next line to type at."""
        self.send(keys)
        self.wait(lambda terminal: keys in terminal.last)
        self.send("\r")
        self.wait_for(then)

    def end(self) -> int:
        """Read to the end of the program and return its exit status."""
        end = time.monotonic() + 20
        while time.monotonic() < end and self._read(0.2):
            pass
        self.child.close()
        return int(self.child.exitstatus if self.child.exitstatus is not None else -1)

    def close(self) -> None:
        """End the program, whatever it does."""
        self.child.close(force=True)

    def _read(self, seconds: float) -> bool:
        try:
            data = self.child.read_nonblocking(65536, timeout=seconds)
        except pexpect.TIMEOUT:
            return True
        except pexpect.EOF:
            return False
        self.raw += data
        self._stream.feed(data)
        return True
