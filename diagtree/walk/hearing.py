"""What the owner's words may mean, for the walk that takes them to a complaint."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.walk.context import Walk

if TYPE_CHECKING:
    from diagtree.reason.complaint_words import Heard

HEARD = "heard"


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
