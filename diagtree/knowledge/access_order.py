"""What an access rests on: the one walk along `after`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from diagtree.knowledge.words import Access


def closure(wanted: Iterable[str], access: Mapping[str, Access]) -> frozenset[str]:
    """Return `wanted` and all they are `after`, transitively. Names that do not exist, and rings, do no harm."""
    found: set[str] = set()
    waiting = list(wanted)
    while waiting:
        access_id = waiting.pop()
        if access_id in access and access_id not in found:
            found.add(access_id)
            waiting.extend(access[access_id].after)
    return frozenset(found)
