"""An ending of a tree as data and in words."""

from __future__ import annotations

from diagtree.knowledge.words import Conclude, Ending, HandOver


def ending_document(ending: Ending) -> dict[str, str]:
    """Return `kind` (conclude, hand-over, refer) and `id`."""
    if isinstance(ending, Conclude):
        return {"kind": "conclude", "id": ending.cause}
    if isinstance(ending, HandOver):
        return {"kind": "hand-over", "id": ending.tree}
    return {"kind": "refer", "id": ending.to}


def ending_words(ending: Ending) -> str:
    """Return the ending as the tree says it: `conclude hot-contact`."""
    said = ending_document(ending)
    return f"{said['kind']} {said['id']}"
