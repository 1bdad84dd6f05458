"""Plain lines: for pipes, dumb terminals and screen readers. Append-only, typed numbers, no escape codes.

Lines are not cut and not wrapped: a screen reader reads them whole, and what prints them may wrap them.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from typing import TextIO

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.face import Block, Look
from diagtree.terminal.interrupted import Interrupted
from diagtree.terminal.text import fits, visible
from diagtree.terminal.typeahead import drop_typeahead


class PlainFace:
    """A stream of lines out, a stream of lines in."""

    narrow = False

    def __init__(self, out: TextIO, into: TextIO) -> None:
        self._out = out
        self._into = into

    def show(self, blocks: Iterable[Block]) -> None:
        for block in blocks:
            if block.look is Look.HEADING:
                self._print("")
            self._print(f"{block.first}{block.text}")

    def ask(self, label: str) -> str:
        drop_typeahead(self._into)
        self._write(f"{label}> ")
        try:
            line = self._into.readline()
        except KeyboardInterrupt:
            line = ""
        if not self._into.isatty():
            self._print(visible(line.strip()))  # a pipe echoes nothing: the record of the talk stays whole
        if not line:
            raise Interrupted
        return line.strip()

    def _print(self, text: str) -> None:
        self._write(text + "\n")

    def _write(self, text: str) -> None:
        self._out.write(fits(visible(text), self._out.encoding or "utf-8"))
        self._out.flush()


def driver(out: TextIO | None = None, into: TextIO | None = None) -> Dialogue:
    """Return the driver that asks a person, or a program, over plain lines."""
    lines = into or sys.stdin
    return Dialogue(PlainFace(out or sys.stdout, lines), attended=lines.isatty())
