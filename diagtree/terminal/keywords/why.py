"""`why`: what this question tells, where its limit comes from, and what is worth most now."""

from __future__ import annotations

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.keywords import Keyword
from diagtree.walk.answers import Answer
from diagtree.walk.prompts import Prompt


def _say(dialogue: Dialogue, prompt: Prompt, scene: Scene, rest: str) -> Answer | None:  # noqa: ARG001
    dialogue.tell(*(scene.why() or ("There is nothing more to say about this step.",)))
    for lines in scene.advice():
        dialogue.tell(*lines)
    return None


KEYWORD = Keyword(
    word="why", short="w", order=20, say=_say,
    means="what this step tells, where its limit comes from, and what is worth most now.",
)
