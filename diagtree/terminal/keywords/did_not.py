"""`did-not`: said of a step of making safe, "I did not do that"; the car counts as live at once."""

from __future__ import annotations

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.keywords import Keyword
from diagtree.walk.answers import Answer, DidNot
from diagtree.walk.prompts import Prompt


def _say(dialogue: Dialogue, prompt: Prompt, scene: Scene, rest: str) -> Answer | None:  # noqa: ARG001
    return DidNot(rest or dialogue.ask("What was not done?"))


KEYWORD = Keyword(
    word="did-not", short="u", order=35, say=_say, offered=lambda prompt: prompt.did_not,
    otherwise="There is no step of making safe to take back here.",
    takes=lambda rest, scene: True,  # noqa: ARG005
    means="a step of making safe was not done after all; the car counts as live at once.",
)
