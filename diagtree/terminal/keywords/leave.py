"""`leave`: save and leave; the walk goes on at this question."""

from __future__ import annotations

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.keywords import Keyword
from diagtree.walk.answers import Answer, Leave
from diagtree.walk.prompts import Prompt


def _say(dialogue: Dialogue, prompt: Prompt, scene: Scene, rest: str) -> Answer | None:  # noqa: ARG001
    return Leave()


KEYWORD = Keyword(
    word="leave", short="q", order=80, say=_say,
    means="leave; everything answered is saved, the walk goes on at this question.",
)
