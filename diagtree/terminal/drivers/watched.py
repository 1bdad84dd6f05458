"""Another driver's answers, shown as they are given: for people who watch a job being played."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from diagtree.terminal.drivers import Driver, Scene
from diagtree.terminal.face import Block, Look
from diagtree.terminal.views import prompt as view
from diagtree.terminal.views.answer import words
from diagtree.walk.answers import Answer
from diagtree.walk.prompts import Kind, Prompt

_ALSO = {
    Kind.CONDITIONS: (Look.HOW,),
    Kind.CONCLUSION: (Look.ABOUT,),
    Kind.PROOF_RESULT: (Look.ABOUT,),
    Kind.REMAINING: (Look.ABOUT,),
}


class WatchedDriver:
    """Shows every prompt with `show` and the answer of `driver` to it.

    whole : show prompts in full, as the technician sees them; else each caution once, and no steps to carry out.
    pause : called with the number of words to be read before the answer stands there.
    """

    advised = False

    def __init__(
        self, driver: Driver, show: Callable[[Iterable[Block]], None], *, whole: bool, pause: Callable[[int], None]
    ) -> None:
        self._driver = driver
        self._show = show
        self._whole = whole
        self._pause = pause
        self._cautions: set[str] = set()

    def answer(self, prompt: Prompt, scene: Scene) -> Answer:
        answer = self._driver.answer(prompt, scene)
        blocks = list(view.whole(prompt) if self._whole else self._short(prompt))
        self._show(blocks)
        self._pause(sum(len(block.text.split()) for block in blocks))
        self._show([Block(Look.SAID, words(prompt, answer), "> ")])
        return answer

    def refused(self, message: str) -> None:
        self._driver.refused(message)

    def tell(self, *lines: str) -> None:
        self._driver.tell(*lines)

    def _short(self, prompt: Prompt) -> Iterator[Block]:
        wanted = {Look.HEADING, Look.ASK, Look.TOLD, *_ALSO.get(prompt.kind, ())}
        for block in view.whole(prompt):
            if block.look in wanted:
                yield block
            elif block.look is Look.CAUTION and block.text not in self._cautions:
                self._cautions.add(block.text)
                yield block
