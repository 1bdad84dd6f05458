"""Answers from a script, line by line: refused answers, interruptions and the clock included."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta

from diagtree.check.walks.said import Waited
from diagtree.errors import WrongUse
from diagtree.knowledge.place import Place
from diagtree.terminal.answers_script import Line
from diagtree.terminal.drivers import Scene
from diagtree.walk.answers import Answer, Leave
from diagtree.walk.prompts import Prompt


class ScriptDriver:
    """Says the lines of a script in order. A refused line is passed over, as a person would go on.

    over : whether every line was said; then the walk is left where it is.
    """

    advised = False

    def __init__(self, lines: Sequence[Line], tell: Callable[[str], None]) -> None:
        """tell : is told of lines that were refused."""
        self._lines = list(lines)
        self._tell = tell
        self._last: Place | None = None
        self._waited = 0.0

    @property
    def over(self) -> bool:
        """Whether nothing is left to say."""
        return not self._lines

    def clock(self, now: Callable[[], str]) -> Callable[[], str]:
        """Return a clock that runs with `now` and is ahead of it by all the waits said so far."""
        return lambda: (datetime.fromisoformat(now()) + timedelta(minutes=self._waited)).isoformat()

    def answer(self, prompt: Prompt, scene: Scene) -> Answer:  # noqa: ARG002 - a script answers unseen
        while self._lines:
            said, self._last = self._lines.pop(0)
            if not isinstance(said, Waited):
                return said
            self._waited += said.minutes
            if self._lines:
                continue
        return Leave()

    def refused(self, message: str) -> None:
        if self._last is None:
            raise WrongUse(message)
        self._tell(f"{self._last}: refused: {message}")

    def tell(self, *lines: str) -> None:
        """Nobody listens."""
