"""A person at a terminal: questions printed, answers typed at one line."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.face import Block
from diagtree.terminal.keyboard import ask_line
from diagtree.terminal.screen import Screen
from diagtree.walk.answers import Answer
from diagtree.walk.prompts import Prompt


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
        return ask_line(self._screen.fit(label))


class PersonDriver:
    """A person who reads the screen and types."""

    def __init__(self, screen: Screen | None = None) -> None:
        self._dialogue = Dialogue(TerminalFace(screen or Screen(sys.stdout)))

    def answer(self, prompt: Prompt, scene: Scene) -> Answer:
        return self._dialogue.answer(prompt, scene)

    def refused(self, message: str) -> None:
        self._dialogue.refused(message)

    def tell(self, lines: Sequence[str]) -> None:
        self._dialogue.tell(*lines)
