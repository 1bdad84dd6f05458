"""Plain lines: for pipes, dumb terminals and screen readers. Append-only, typed numbers, no escape codes.

Lines are not cut and not wrapped: a screen reader reads them whole, and what prints them may wrap them.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from typing import TextIO

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.face import Block, Look
from diagtree.terminal.interrupted import Interrupted
from diagtree.terminal.text import fits, visible
from diagtree.terminal.typeahead import drop_typeahead
from diagtree.walk.answers import Answer
from diagtree.walk.prompts import Prompt


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


class PlainDriver:
    """A person, or a program, that reads and writes plain lines."""

    def __init__(self, out: TextIO | None = None, into: TextIO | None = None) -> None:
        self._dialogue = Dialogue(PlainFace(out or sys.stdout, into or sys.stdin))

    def answer(self, prompt: Prompt, scene: Scene) -> Answer:
        return self._dialogue.answer(prompt, scene)

    def refused(self, message: str) -> None:
        self._dialogue.refused(message)

    def tell(self, lines: Sequence[str]) -> None:
        self._dialogue.tell(*lines)
