"""Readings that give a wanted outcome on a car: found by trying the physical range and halving, not by algebra.

One reading is moved over its whole physical range while the others stay at a usual value (20 degC, 230 V); where the
outcome changes between two tries, the change is halved down. What is returned lies in the middle of the outcome's band,
so that no meter's uncertainty reaches a limit. A maker's value that the profile does not know is stood in for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field
from itertools import islice, pairwise, product
from math import inf

from diagtree.check.physical_range import physical_range
from diagtree.check.tries import Outcomes, Tried, band, inside, middle_of, shortened, tries_along, typed
from diagtree.knowledge.limits import LimitError, MissingName, UnknownFact, evaluate
from diagtree.knowledge.limits_nodes import Call, Name, Node, children
from diagtree.knowledge.words import Test
from diagtree.physics.quantity import Facts, Value, quantity
from diagtree.records import dataclass
from diagtree.walk.judging import missing_fact, parse_fact, with_supplied

_STAND_IN = "20"
_STAND_IN_SENSOR = "ntc r25=10000 beta=3435"
_MOST_FACTS = 12
_MOST_BACKGROUNDS = 64


@dataclass(frozen=True, slots=True)
class Solved:
    """Readings as typed, by name, and the maker's values that had to be supplied for them, by dotted name."""

    readings: Mapping[str, str]
    facts: Mapping[str, str] = field(default_factory=dict)


_FEW = 12  # one in so many values is tried first


class Bench:
    """The readings of one test on one car, and what they mean there. `fit`: whether its arithmetic can be computed."""

    def __init__(self, test: Test, facts: Facts) -> None:
        """`test` has readings and a judged number; `facts` are the car's, {} for the catalogue as written."""
        self.test, self._facts = test, facts
        self.ranges = {read.name: physical_range(read.unit) for read in test.reads}
        self.supplied: dict[str, str] = {}
        self.vehicle: Facts = facts
        self._tried: dict[tuple[object, ...], Tried] = {}
        self._solved: dict[str, Solved | None] = {}
        self.fit = test.judge is not None and self._settle()

    def _settle(self) -> bool:
        """Stand in for the maker's values that are missing; return whether none is left."""
        for _ in range(_MOST_FACTS):
            missing = self._first_missing()
            if missing is None:
                return True
            if not missing.startswith("vehicle.") or missing in self.supplied:
                return False
            self.supplied[missing] = _STAND_IN_SENSOR if missing in _parts_of_profile(self.test) else _STAND_IN
            self.vehicle = with_supplied(self._facts, {path: parse_fact(text) for path, text in self.supplied.items()})
        return False

    def _first_missing(self) -> str | None:
        for readings in self.backgrounds(""):
            try:
                self.limits(readings)
            except (UnknownFact, MissingName) as error:
                return missing_fact(error)
            except LimitError:
                continue  # outside a formula's range: other readings tell whether anything is missing
            return None
        return None

    def limits(self, readings: Mapping[str, float]) -> tuple[float, tuple[float, ...]]:
        """Return the judged number and the limits. Raises LimitError and its children."""
        assert self.test.judge is not None
        values: dict[str, Value] = {**readings, "vehicle": self.vehicle}
        if self.test.expected is not None:
            values["expected"] = evaluate(self.test.expected, values)
        edges = tuple([evaluate(one.below, values) for one in self.test.outcomes if one.below is not None])
        return evaluate(self.test.judge, values), edges

    def outcome(self, readings: Mapping[str, float]) -> int | None:
        """Return the number of the outcome that readings give; None where they cannot be judged."""
        try:
            value, edges = self.limits(readings)
        except LimitError:
            return None
        if any(low > high for low, high in pairwise(edges)):
            return None
        return next((number for number, edge in enumerate(edges) if value < edge), len(edges))

    def backgrounds(self, moved: str) -> Iterator[dict[str, float]]:
        """Yield usual values of all readings but `moved`, likeliest first."""
        others = [name for name in self.ranges if name != moved]
        for values in islice(product(*(self.ranges[name].usual for name in others)), _MOST_BACKGROUNDS):
            yield dict(zip(others, values, strict=True))

    def solve(self, outcome: str) -> Solved | None:
        """Return readings in the middle of an outcome's band; None where none was found."""
        if not self.fit:
            return None
        if outcome not in self._solved:
            found = self._search(self.test.outcome_ids().index(outcome))
            self._solved[outcome] = None if found is None else self.as_typed(found)
        return self._solved[outcome]

    def as_typed(self, readings: Mapping[str, float]) -> Solved:
        """Return readings as a technician types them, with the maker's values that were stood in for."""
        return Solved({read.name: typed(readings[read.name]) for read in self.test.reads}, dict(self.supplied))

    def _search(self, wanted: int) -> dict[str, float] | None:
        for name in self._moved_first():
            for background in self.backgrounds(name):
                found = self._along(name, background, wanted)
                if found is not None:
                    return found
        over = {name: inf if one.high == inf else one.usual[0] for name, one in self.ranges.items()}
        return over if inf in over.values() and self.outcome(over) == wanted else None

    def _moved_first(self) -> list[str]:
        """Return the readings: a temperature beside other readings last, first that with which the number rises."""
        mixed = len({one.temperature for one in self.ranges.values()}) > 1

        def late(name: str) -> tuple[bool, bool]:
            return mixed and self.ranges[name].temperature, not self._rises(name)

        return sorted(self.ranges, key=late)

    def _rises(self, name: str) -> bool:
        usual = {one: found.usual[0] for one, found in self.ranges.items()}
        try:
            return self.limits(usual | {name: usual[name] * 1.5})[0] > self.limits(usual)[0]
        except LimitError:
            return False

    def gives(self, outcome: str) -> bool:
        """Return whether some readings that are tried give an outcome; quicker than to solve for it."""
        if not self.fit:
            return False
        wanted = self.test.outcome_ids().index(outcome)
        for few in (True, False):
            for name in self.ranges:
                for background in self.backgrounds(name):
                    at, tried = self._tries(name, background, few=few)
                    if inside(at, tried, wanted) is not None:
                        return True
        return self.solve(outcome) is not None

    def _tries(self, name: str, background: Mapping[str, float], *, few: bool = False) -> tuple[Outcomes, Tried]:
        """Return the outcome at a value of `name`, the rest as in `background`, and at many values along its range.

        few : only at some of them, which is enough to find most outcomes between two.
        """

        def at(value: float) -> int | None:
            return self.outcome({**background, name: value})

        key = (name, few, *background.values())
        if key not in self._tried:
            values = tries_along(self.ranges[name])
            self._tried[key] = [(value, at(value)) for value in (values[::_FEW] if few else values)]
        return at, self._tried[key]

    def _along(self, name: str, background: Mapping[str, float], wanted: int) -> dict[str, float] | None:
        """Return readings with the wanted outcome, `name` moved over its range, the rest as in `background`."""
        physical = self.ranges[name]
        at, tried = self._tries(name, background)
        hit = inside(at, tried, wanted)
        if hit is None:
            return None
        low, high = band(at, tried, hit, wanted)
        for value in (*shortened(middle_of(physical, low, high)), hit):
            if physical.low <= value <= physical.high and at(value) == wanted:
                return {**background, name: value}
        return None


def _parts_of_profile(test: Test) -> set[str]:
    """Return the dotted names that a test's formulas take as a whole part of the profile, such as a sensor."""
    found: set[str] = set()
    waiting: list[Node] = [one.node for one in (test.expected, test.judge) if one is not None]
    waiting += [one.below.node for one in test.outcomes if one.below is not None]
    while waiting:
        node = waiting.pop()
        if isinstance(node, Call):
            for wanted, argument in zip(quantity(node.function).inputs, node.arguments, strict=True):
                if wanted.unit == "facts" and isinstance(argument, Name):
                    found.add(argument.text)
        waiting.extend(children(node))
    return found
