"""`back [n]`: take back the last answers, or confirmed steps of a procedure; what was done to the car stays done."""

from __future__ import annotations

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.keywords import Keyword
from diagtree.walk.answers import Answer, Back
from diagtree.walk.prompts import Prompt


def _count(rest: str, scene: Scene) -> bool:  # noqa: ARG001
    return rest.isascii() and rest.isdigit() and 0 < int(rest) < 1000


def _say(dialogue: Dialogue, prompt: Prompt, scene: Scene, rest: str) -> Answer | None:  # noqa: ARG001
    return Back(int(rest) if rest else 1)


KEYWORD = Keyword(
    word="back", short="b", order=10, say=_say, takes=_count,
    means="take back the last answer or confirmed step, `back 3` three; what was done to the car stays done.",
)
