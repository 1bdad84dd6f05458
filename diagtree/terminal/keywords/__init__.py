"""Words that may be typed at every question, one a file: `KEYWORD` says how it is spelt and what it does.

They are read before numbers and answers. No short form is `n` or `y` (they would be taken for no and yes) or `l`
(it looks like 1).
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING

from diagtree.discover import collect
from diagtree.records import dataclass
from diagtree.walk.answers import Answer
from diagtree.walk.prompts import Prompt

if TYPE_CHECKING:
    from diagtree.terminal.dialogue import Dialogue
    from diagtree.terminal.drivers import Scene


def _always(prompt: Prompt) -> bool:  # noqa: ARG001 - the shape of every `offered`
    return True


@dataclass(frozen=True, slots=True)
class Keyword:
    """A word for every question.

    word, short : how it is typed. means : for `help`, in a few words. order : its place on the key line.
    say : carries it out, given what was typed behind the word; None goes back to the question.
    offered : whether this prompt takes it. otherwise : what to say where it does not.
    takes : whether this may stand behind the word (else the line is an answer, not a key word).
    """

    word: str
    short: str
    means: str
    order: int
    say: Callable[[Dialogue, Prompt, Scene, str], Answer | None]
    offered: Callable[[Prompt], bool] = _always
    otherwise: str = ""
    takes: Callable[[str, Scene], bool] = lambda rest, scene: False  # noqa: ARG005


@lru_cache(maxsize=1)
def keywords() -> tuple[Keyword, ...]:
    """Return every key word, in the order of the key line."""
    return tuple(sorted(collect(sys.modules[__name__], "KEYWORD", Keyword), key=lambda keyword: keyword.order))


def find(line: str, scene: Scene) -> tuple[Keyword, str] | None:
    """Return the key word that `line` begins with and what stands behind it, or None if the line is an answer."""
    first, _, rest = line.strip().replace("?", "help", line.strip() == "?").partition(" ")
    rest = rest.strip()
    for keyword in keywords():
        if first.casefold() in (keyword.word, keyword.short) and (not rest or keyword.takes(rest, scene)):
            return keyword, rest
    return None


def key_line(prompt: Prompt, *, narrow: bool) -> str:
    """Return the line under a question: `back b`, or on a narrow screen the four that are wanted most."""
    offered = [keyword for keyword in keywords() if keyword.offered(prompt)]
    if narrow:
        most = [keyword for keyword in offered if keyword.word in ("back", "why", "not-done")]
        return "  ".join([f"{keyword.short} {keyword.word}" for keyword in most] + ["h more"])
    return "  ".join(f"{keyword.word} {keyword.short}" for keyword in offered)
