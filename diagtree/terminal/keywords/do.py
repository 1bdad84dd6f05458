"""`do`: do another test now, out of the tree's turn; `do choose`: choose among all that remains."""

from __future__ import annotations

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.keywords import Keyword
from diagtree.walk.answers import Answer, ChooseNow, DoNow
from diagtree.walk.prompts import Prompt

CHOOSE = "choose"


def _say(dialogue: Dialogue, prompt: Prompt, scene: Scene, rest: str) -> Answer | None:  # noqa: ARG001
    if rest == CHOOSE:
        return ChooseNow()
    test = scene.tests[rest] if rest else dialogue.pick_test("Which test shall be done now?", scene)
    return DoNow(test.id) if test else None


KEYWORD = Keyword(
    word="do", short="d", order=70, say=_say, takes=lambda rest, scene: rest in scene.tests or rest == CHOOSE,
    means="do another test now, out of turn; `do choose` lists all that remains to choose from.",
)
