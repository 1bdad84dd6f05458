"""`why`: what this question tells, which causes it parts, where its limit comes from."""

from __future__ import annotations

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.keywords import Keyword
from diagtree.walk.answers import Answer
from diagtree.walk.prompts import Prompt


def _say(dialogue: Dialogue, prompt: Prompt, scene: Scene, rest: str) -> Answer | None:  # noqa: ARG001
    dialogue.tell(*(scene.why() or ("There is nothing more to say about this step.",)))
    return None


KEYWORD = Keyword(
    word="why", short="w", order=20, say=_say,
    means="what this step tells, which causes it parts, where the limit comes from.",
)
