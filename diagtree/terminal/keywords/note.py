"""`note`: a remark for the record, kept with the step that is being asked about."""

from __future__ import annotations

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.keywords import Keyword
from diagtree.walk.answers import Answer, Note
from diagtree.walk.prompts import Prompt


def _say(dialogue: Dialogue, prompt: Prompt, scene: Scene, rest: str) -> Answer | None:  # noqa: ARG001
    return Note(rest or dialogue.ask("What should be on record?"))


KEYWORD = Keyword(
    word="note", short="r", order=40, say=_say,
    takes=lambda rest, scene: True,  # noqa: ARG005
    means="a remark for the record; `note pin is green` in one go.",
)
