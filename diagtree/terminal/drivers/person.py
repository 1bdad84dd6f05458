"""A person at a terminal: questions printed, answers typed at one line."""

from __future__ import annotations

import sys
from collections.abc import Iterable

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.face import Block, Look
from diagtree.terminal.keyboard import ask_line
from diagtree.terminal.screen import Screen


class TerminalFace:
    """Screen and keyboard of one terminal."""

    def __init__(self, screen: Screen) -> None:
        self._screen = screen

    @property
    def narrow(self) -> bool:
        return self._screen.narrow

    def show(self, blocks: Iterable[Block]) -> None:
        lines = list(self._screen.lines(blocks))
        page = max(self._screen.size[1] - 2, 4)
        while len(lines) > page:  # nothing may scroll away unread, cautions least of all
            self._screen.print(lines[:page])
            del lines[:page]
            self.ask("Enter to read on")
        self._screen.print(lines)

    def ask(self, label: str) -> str:
        if len(label) > self._screen.size[0] // 2:  # leave room to type
            self._screen.show([Block(Look.ASK, label)])
            label = ""
        return ask_line(self._screen.fit(label))


def driver() -> Dialogue:
    """Return the driver that asks a person at this terminal."""
    return Dialogue(TerminalFace(Screen(sys.stdout)))
