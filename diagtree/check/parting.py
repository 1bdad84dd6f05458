"""Which tests part which causes, and what it takes to do them on a car that is closed and live."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import combinations

from diagtree.check.flow import Flow
from diagtree.check.subject import TreeOnCar
from diagtree.knowledge.words import Cause, Test
from diagtree.reason.arrangement import START, Layout, Move, minutes_of
from diagtree.reason.problem import planned_tests, stated_chance
from diagtree.records import dataclass

CLEARLY = 0.5
"""Share of the results by which two causes must differ at a test to be called parted (total variation). [-]"""

STRIPPING = 5.0
"""Minutes of opening, or of making safe, from which on a car is taken apart: a bonnet is no stripping. [min]"""


@dataclass(frozen=True, slots=True)
class Take:
    """What a test takes on a closed, live car: minutes of the technician, and whether it is taken apart for it."""

    minutes: float
    strips: bool


class Parting:
    """The tests of one tree on one car."""

    def __init__(self, one: TreeOnCar) -> None:
        self.flow: Flow = one.flow
        self._layout = Layout.of(one.catalogue)
        self._parted: dict[str, int] = {}
        self.tests = planned_tests(one.tree, one.catalogue)
        self._causes: tuple[Cause, ...] = tuple(one.catalogue.causes[cause] for cause in self.flow.causes)

    def take(self, test: Test) -> Take:
        """Return what a test takes."""
        moves = self._layout.moves(START, self._layout.need_of(test))
        stripping = minutes_of(moved for moved in moves if moved.move in (Move.OPEN, Move.MAKE_SAFE))
        return Take(minutes_of(moves) + test.labour, stripping >= STRIPPING)

    def parted(self, test: Test, alive: int) -> int:
        """Return the pairs among the causes in `alive` that a test clearly parts, as bits."""
        if test.id not in self._parted:
            self._parted[test.id] = sum(
                1 << number for number, (one, two) in enumerate(self._pairs) if _differ(test, one, two) >= CLEARLY
            )
        among = sum(
            1 << number
            for number, (one, two) in enumerate(combinations(range(len(self._causes)), 2))
            if alive >> one & 1 and alive >> two & 1
        )
        return self._parted[test.id] & among

    @cached_property
    def _pairs(self) -> tuple[tuple[Cause, Cause], ...]:
        return tuple(combinations(self._causes, 2))

    @cached_property
    def before(self) -> Mapping[str, frozenset[str]]:
        """The tests that may have been done on some way to each reached step."""
        found: dict[str, set[str]] = {step: set() for step in self.flow.order}
        for step in self.flow.order:
            for _, target in self.flow.onward(step):
                found[target] |= found[step] | {self.flow.test(step).id}
        return {step: frozenset(tests) for step, tests in found.items()}

    def others(self, step: str) -> Iterator[Test]:
        """Give the tests that a plan may use and that cannot have been done on the way to a step."""
        done = self.before[step] | {self.flow.test(step).id}
        for test in self.tests:
            if test not in done:
                yield self.flow.catalogue.tests[test]


def _differ(test: Test, one: Cause, two: Cause) -> float:
    """Return the total variation distance of what two causes show: 0 alike, 1 never the same result. [-]"""
    return sum(abs(stated_chance(test, one, name) - stated_chance(test, two, name)) for name in test.outcome_ids()) / 2
