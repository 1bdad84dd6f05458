"""Limits of a test on one car: whether they ascend for every reading, and whether each outcome can be given at all.

Limits that are numbers on this car are compared at once. Limits that move with a reading are searched (`boxes`): a
mistake is told only with readings that show it (limits), or where interval arithmetic proves it (outcomes). Where a
maker's value is unknown on this car, nothing is said of what depends on it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import inf

from diagtree.check.boxes import Box, Point, search
from diagtree.check.physical_range import physical_range
from diagtree.check.readings import Bench, Solved
from diagtree.check.subject import Car
from diagtree.knowledge.limits import Expression, LimitError, difference, evaluate, interval
from diagtree.knowledge.limits_nodes import Name
from diagtree.knowledge.words import Outcome, Test
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Crossed:
    """Two neighbouring outcomes whose limits are equal or descend, with their limits and the readings at that."""

    lower: Outcome
    upper: Outcome
    limits: tuple[float, float]
    readings: Solved | None


def crossed(test: Test, car: Car) -> tuple[Crossed, ...]:
    """Return the neighbouring limits of a test that do not ascend on a car, each with an example of it."""
    limited = [outcome for outcome in test.outcomes if outcome.below is not None]
    found = (_crossed(test, car, lower, upper) for lower, upper in pairwise(limited))
    return tuple(one for one in found if one is not None)


def _crossed(test: Test, car: Car, lower: Outcome, upper: Outcome) -> Crossed | None:
    if lower.below is None or upper.below is None:
        return None
    low, high = _fixed(car, lower.below), _fixed(car, upper.below)
    if low is not None and high is not None:
        return Crossed(lower, upper, (low, high), None) if low >= high else None
    bench = car.bench(test.id) if _moves(lower.below) or _moves(upper.below) else None
    if bench is None or not bench.fit or bench.supplied:
        return None
    between = difference(upper.below, lower.below)
    names = {*between.names, *(test.expected.names if test.expected else ())}

    def at(point: Point) -> tuple[float, float] | None:
        try:
            _, edges = bench.limits({**_usual(bench), **point})
        except LimitError:
            return None
        place = [one.id for one in test.outcomes].index(lower.id)
        return edges[place], edges[place + 1]

    def excludes(box: Box) -> bool:
        bounds = _interval(bench, between, box)
        return bounds is None or bounds[0] > 0

    def does(point: Point) -> bool:
        edges = at(point)
        return edges is not None and edges[0] >= edges[1]

    ranges = {name: one for name, one in bench.ranges.items() if name in names}
    readings = search(ranges, excludes, does).readings if ranges else None
    if readings is None:
        return None
    edges = at(readings)
    assert edges is not None
    return Crossed(lower, upper, edges, bench.as_typed({**_usual(bench), **readings}))


def impossible(test: Test, car: Car) -> tuple[Outcome, ...]:
    """Return the outcomes that no readings within their physical range can give on a car."""
    if test.judge is None or not test.outcomes:
        return ()
    edges = [None if one.below is None else _fixed(car, one.below) for one in test.outcomes[:-1]]
    plain = _lone_reading(test)
    if plain is not None and all(edge is not None for edge in edges):
        low, high = (physical_range(plain).low, physical_range(plain).high)
        return _beyond(test, [edge for edge in edges if edge is not None], low, high)
    bench = car.bench(test.id)
    if not bench.fit or bench.supplied or crossed(test, car):
        return ()
    return tuple(outcome for outcome in test.outcomes if _is_impossible(bench, outcome))


def _beyond(test: Test, edges: Sequence[float], low: float, high: float) -> tuple[Outcome, ...]:
    """Return the outcomes whose band between fixed limits lies outside the range of the one reading."""
    found = []
    for outcome, start, end in zip(test.outcomes, [-inf, *edges], [*edges, inf], strict=True):
        if start < end and (end <= low or start > high):
            found.append(outcome)
    return tuple(found)


def _is_impossible(bench: Bench, outcome: Outcome) -> bool:
    if bench.gives(outcome.id):
        return False
    test = bench.test
    place = test.outcome_ids().index(outcome.id)
    judge = test.judge
    assert judge is not None
    above = None if outcome.below is None else difference(judge, outcome.below)
    before = test.outcomes[place - 1].below if place else None
    under = None if before is None else difference(judge, before)

    def excludes(box: Box) -> bool:
        for gap, is_out in ((above, _never_negative), (under, _always_negative)):
            bounds = None if gap is None else _interval(bench, gap, box)
            if gap is not None and (bounds is None or is_out(bounds)):
                return True
        return False

    def does(point: Point) -> bool:
        return bench.outcome(point) == place

    return search(bench.ranges, excludes, does).excluded


def _never_negative(bounds: tuple[float, float]) -> bool:
    return bounds[0] >= 0


def _always_negative(bounds: tuple[float, float]) -> bool:
    return bounds[1] < 0


def _interval(bench: Bench, expr: Expression, box: Box) -> tuple[float, float] | None:
    """Return the range of an expression over a box; None where it can be computed nowhere in it."""
    ranges: dict[str, object] = {name: (one.low, one.high) for name, one in bench.ranges.items()}
    try:
        return interval(expr, {**ranges, **box, "vehicle": bench.vehicle}, bench.test.expected)  # type: ignore[dict-item]
    except LimitError:
        return None


def _moves(expr: Expression) -> bool:
    return any(not name.startswith("vehicle.") for name in expr.names)


def _fixed(car: Car, expr: Expression) -> float | None:
    """Return a limit that is a number on this car; None where it moves with a reading or is unknown."""
    if _moves(expr):
        return None
    try:
        return evaluate(expr, {"vehicle": car.vehicle.facts} if car.vehicle else {})
    except LimitError:
        return None


def _lone_reading(test: Test) -> str | None:
    """Return the unit of the one reading that is judged as it is; None where anything is computed."""
    if test.judge is not None and isinstance(test.judge.node, Name) and len(test.judge.node.path) == 1:
        return next((read.unit for read in test.reads if read.name == test.judge.node.path[0]), None)
    return None


def _usual(bench: Bench) -> Mapping[str, float]:
    return {name: one.usual[0] for name, one in bench.ranges.items()}
