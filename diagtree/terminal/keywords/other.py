"""`other`: record another test that was done anyway; it is evidence like any other."""

from __future__ import annotations

from diagtree.knowledge.words import Test
from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.keywords import Keyword
from diagtree.walk.answers import Answer, RecordTest
from diagtree.walk.prompts import Field, Option, Prompt

_MISTAKE = (
    Option("mistake", "the earlier answer was a mistake: this one replaces it"),
    Option("both", "both were seen: the one that is not healthy counts"),
)


def _say(dialogue: Dialogue, prompt: Prompt, scene: Scene, rest: str) -> Answer | None:  # noqa: ARG001
    test = scene.tests[rest] if rest else dialogue.pick_test("Which test was done?", scene)
    if test is None:
        return None
    dialogue.tell(test.ask)
    if test.reads:
        fields = [Field(read.name, read.name.replace("_", " "), read.unit) for read in test.reads]
        values = dict(dialogue.values(fields))
        if dialogue.attended and (doubt := scene.doubt(test.id, values)):
            dialogue.tell(doubt[1])
            del values[doubt[0]]
            dialogue.values(fields, kept=values)
        outcome = None
    else:
        values = {}
        (outcome,) = dialogue.pick("What was the outcome?", _outcomes(test))
    mistake = False
    if test.id in scene.answered:
        before = f"It was answered before: {scene.answered[test.id]}."
        mistake = dialogue.pick(before, _MISTAKE) == ("mistake",)
    note = dialogue.ask("Who did it, and when?")
    return RecordTest(test.id, outcome=outcome, values=values, note=note, was_mistake=mistake)


def _outcomes(test: Test) -> list[Option]:
    return [Option(outcome.id, outcome.id, danger=outcome.id in test.stop) for outcome in test.outcomes]


KEYWORD = Keyword(
    word="other", short="o", order=60, say=_say, takes=lambda rest, scene: rest in scene.tests,
    means="record another test that was done anyway.",
)
