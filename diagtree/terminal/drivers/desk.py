"""The desk: another driver's answers, for as long as only the owner is asked. In front of the bay it leaves.

What the sums advise is for the bay; here nothing stands beside a question. Words that were said with the command are
not asked for again.
"""

from __future__ import annotations

from dataclasses import replace

from diagtree.knowledge.words import Power, Where
from diagtree.terminal.drivers import Driver, Scene
from diagtree.walk.answers import Answer, Chosen, Leave, Typed
from diagtree.walk.events import GO_ON
from diagtree.walk.prompts import Fields, Kind, Prompt

_ALWAYS = (Kind.LOOK, Kind.COMPLAINT, Kind.SORT, Kind.DANGER, Kind.HAND_OVER, Kind.REFER)
_TESTS = (Kind.OUTCOME, Kind.READING, Kind.CONDITIONS, Kind.CLOSE_READING, Kind.FACT)


class DeskDriver:
    """Answers with `driver` what is asked at reception.

    words : what the owner says, where it was said already. hands_over : go on in the complaint's tree unasked, as where
    the answers come from a file.
    """

    advised = False

    def __init__(self, driver: Driver, *, words: str = "", hands_over: bool = False) -> None:
        self._driver = driver
        self._words = words
        self._hands_over = hands_over

    def answer(self, prompt: Prompt, scene: Scene) -> Answer:
        if not at_desk(prompt, scene):
            return Leave()
        if prompt.kind is Kind.HAND_OVER and self._hands_over:
            return Chosen((GO_ON,))
        scene = replace(scene, advice=tuple)  # `why` tells what a question parts, not what the bay would do
        if prompt.kind is Kind.COMPLAINT and self._words:
            return self._rest_of_complaint(prompt, scene)
        return self._driver.answer(prompt, scene)

    def refused(self, message: str) -> None:
        self._driver.refused(message)

    def tell(self, *lines: str) -> None:
        self._driver.tell(*lines)

    def _rest_of_complaint(self, prompt: Prompt, scene: Scene) -> Answer:
        assert isinstance(prompt.form, Fields)
        rest = tuple(field for field in prompt.form.fields if field.name != "words")
        shown = replace(prompt, ask="And to that:", form=Fields(rest), about=(f"The owner says: {self._words}",))
        answer = self._driver.answer(shown, scene)
        if not isinstance(answer, Typed):
            return answer
        words, self._words = self._words, ""  # who comes back to the question wants to say it in other words
        return Typed({"words": words, **answer.values})


def at_desk(prompt: Prompt, scene: Scene) -> bool:
    """Return whether `prompt` is asked of the owner, at reception."""
    if prompt.kind in _ALWAYS:
        return True
    test = scene.tests.get(prompt.test or "")
    if test is None or prompt.kind not in _TESTS:
        return False
    return test.place is Where.RECEPTION and not test.needs.open and test.needs.power is not Power.DEAD
