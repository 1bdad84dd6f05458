"""What the owner's words may mean, for the walk that takes them to a complaint, and which dangers they tell of."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.walk.context import Walk
from diagtree.walk.events import Complained

if TYPE_CHECKING:
    from diagtree.reason.complaint_words import Heard
    from diagtree.walk.danger_words import Told
    from diagtree.walk.state import State

HEARD = "heard"
OWNERS_WORDS = "the owner's words"
"""The prompt of a note that holds what was said with the command, before any question was asked."""


def heard(walk: Walk, words: str) -> tuple[Heard, ...]:
    """Return the complaints of this library that `words` may mean, likeliest first. The last result is kept."""
    kept = walk.kept.get(HEARD)
    if kept is not None and kept[0] == words:
        assert isinstance(kept[1], tuple)
        return kept[1]
    from diagtree.reason.complaint_words import rank  # a walk that begins in the bay hears nothing

    found = rank(words, walk.library.trees.values())
    walk.kept[HEARD] = (words, found)
    return found


def words_before(state: State) -> tuple[str, ...]:
    """Return what the owner said before any question was asked."""
    return tuple(note.text for note in state.notes if note.prompt == OWNERS_WORDS)


def dangers_said(before: tuple[str, ...], complained: Complained | None) -> tuple[Told, ...]:
    """Return the dangers that the owner's words tell of. before : what was said before any question."""
    later = (complained.words, *complained.also.values()) if complained is not None else ()
    if not (before or later):
        return ()
    from diagtree.walk.danger_words import dangers_told  # a walk without words compiles no patterns

    return dangers_told(dict.fromkeys((*before, *later)))
