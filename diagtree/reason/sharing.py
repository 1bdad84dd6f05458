"""Tests that share an access: what they cost while it is open, and once all has been put back."""

from __future__ import annotations

from collections.abc import Iterable

from diagtree.knowledge.house import House
from diagtree.knowledge.words import Test
from diagtree.reason.arrangement import START, Arrangement, Layout, minutes_of
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Shared:
    """A test that uses an access which stands open: its money now, and from a closed, live car."""

    test: str
    now: float
    later: float


def sharing(
    tests: Iterable[Test], layout: Layout, house: House, now: Arrangement, access: str | None = None
) -> tuple[Shared, ...]:
    """Return those of `tests` that use an access which stands open and are cheaper now than later.

    access : only those that use this access, if given. Dearest to put off first.
    """
    found = []
    for test in tests:
        need = layout.need_of(test)
        if not need.open & now.open or (access is not None and access not in need.open):
            continue
        costs = [(minutes_of(layout.moves(there, need)) + test.labour) / 60 * house.rate for there in (now, START)]
        if costs[0] < costs[1]:
            found.append(Shared(test.id, costs[0], costs[1]))
    return tuple(sorted(found, key=lambda shared: (shared.now - shared.later, shared.test)))
