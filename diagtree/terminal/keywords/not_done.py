"""`not-done`: could not or did not do it; no evidence, and the reason goes on the record."""

from __future__ import annotations

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.keywords import Keyword
from diagtree.walk.answers import Answer, NotDone
from diagtree.walk.prompts import Prompt


def _say(dialogue: Dialogue, prompt: Prompt, scene: Scene, rest: str) -> Answer | None:  # noqa: ARG001
    return NotDone(rest or dialogue.ask("Why was it not done?"))


KEYWORD = Keyword(
    word="not-done", short="x", order=30, say=_say, offered=lambda prompt: prompt.not_done,
    otherwise="This step cannot be left out.",
    takes=lambda rest, scene: True,  # noqa: ARG005
    means="could not or did not do it; asks for the reason.",
)
