"""`help`: every key word and what it does."""

from __future__ import annotations

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.keywords import Keyword, keywords
from diagtree.walk.answers import Answer
from diagtree.walk.prompts import Prompt


def _say(dialogue: Dialogue, prompt: Prompt, scene: Scene, rest: str) -> Answer | None:  # noqa: ARG001
    dialogue.tell(
        "Type the number of an answer, or its word, then Enter. A danger is always typed as its word.",
        "At every question, instead of an answer:",
        *(f"{keyword.short}, {keyword.word}: {keyword.means}" for keyword in keywords() if keyword.offered(prompt)),
    )
    return None


KEYWORD = Keyword(word="help", short="h", order=90, say=_say, means="this list.")
