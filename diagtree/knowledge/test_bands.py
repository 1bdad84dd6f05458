"""What a reading of a catalogue's test must be on this car: the band of its healthy outcome, in the reading's unit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import inf, isfinite

from diagtree.knowledge.limits import LimitError, evaluate, parse_expression
from diagtree.knowledge.limits_nodes import Call, Name
from diagtree.knowledge.limits_units import dimension
from diagtree.knowledge.words import Test
from diagtree.physics.quantity import Value
from diagtree.physics.units import Unit, unit

Bounds = tuple[float, float]
JUDGED = ""
"""The judged number among the units of a test: no reading can have this name."""


def units_of(test: Test) -> dict[str, Unit | None]:
    """Return the unit of each reading, of `expected` and of the judged number; None where nothing tells it."""
    found: dict[str, Unit | None] = {item.name: unit(item.unit) for item in test.reads}
    for name, expr in (("expected", test.expected), (JUDGED, test.judge)):
        try:
            # As it was written: the conversions that were built in since would count twice.
            found[name] = None if expr is None else dimension(parse_expression(expr.text), found)
        except LimitError:
            found[name] = None
    return found


def judged_band(test: Test, values: Mapping[str, Value]) -> Bounds:
    """Return between which limits the judged number must be for the healthy outcome; infinite where open.

    values : readings by name, and `vehicle`. Raises LimitError (UnknownFact too) where a limit cannot be computed.
    """
    known = _with_expected(test, values)
    lowest = -inf
    for outcome in test.outcomes:
        highest = inf if outcome.below is None else evaluate(outcome.below, known)
        if outcome.id == test.healthy:
            return lowest, highest
        lowest = highest
    raise LimitError(f"test `{test.id}` has no outcome `{test.healthy}`")


def reading_band(test: Test, name: str, values: Mapping[str, Value]) -> Bounds | None:
    """Return between which limits the reading `name` must be, the others being in `values`; None where none are told.

    Told are limits on a number that rises with the reading in a straight line (`resistance / expected`).
    Raises LimitError where something cannot be computed.
    """
    if test.judge is None:
        return None
    low, high = judged_band(test, {name: 1.0, **values})
    at = [evaluate(test.judge, {**_with_expected(test, {**values, name: x}), name: x}) for x in (1.0, 2.0, 3.0)]
    slope = at[1] - at[0]
    if slope <= 0 or abs(at[2] - at[1] - slope) > 1e-9 * slope:
        return None
    return tuple(1.0 + (end - at[0]) / slope if isfinite(end) else end for end in (low, high))  # type: ignore[return-value]


def tests_of_sensor(tests: Iterable[Test], path: tuple[str, ...]) -> Iterator[tuple[Test, str, str]]:
    """Yield the tests whose `expected` is a sensor of the profile, with the names of the judged reading and of the
    temperature. path : as in the limits, `vehicle` first."""
    for test in tests:
        node = test.expected.node if test.expected is not None else None
        if not isinstance(node, Call) or test.judge is None or len(node.arguments) != 2:
            continue
        temperature, sensor = node.arguments
        if not isinstance(temperature, Name) or not isinstance(sensor, Name) or sensor.path != path:
            continue
        others = [item.name for item in test.reads if item.name != temperature.text and item.name in test.judge.names]
        if len(others) == 1:
            yield test, others[0], temperature.text


def _with_expected(test: Test, values: Mapping[str, Value]) -> dict[str, Value]:
    known = dict(values)
    if test.expected is not None:
        known["expected"] = evaluate(test.expected, known)
    return known
