"""A reading moved to just beside a limit of its test, as a meter would show it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import exp, isfinite, log

from diagtree.car.shown import shown
from diagtree.errors import DiagtreeError
from diagtree.knowledge.limits import evaluate
from diagtree.knowledge.words import Test
from diagtree.physics.meter import accuracy_for
from diagtree.physics.quantity import Value
from diagtree.physics.reading import parse_reading
from diagtree.physics.units import Unit, unit
from diagtree.quiz.drills import Dice
from diagtree.walk.context import Walk
from diagtree.walk.judging import meters_for, read, verdict

FARTHEST = 0.06  # of the limit: beyond that nobody needs the uncertainty
_LOWEST, _HIGHEST = 1e-6, 1e12  # of a reading in its unit
_COLDEST, _HOTTEST = -45.0, 250.0  # degC


def near_a_limit(walk: Walk, test: Test, typed: Mapping[str, str], dice: Dice) -> dict[str, str] | None:
    """Return readings of which one was moved so that the judged number lies within 6 per cent of a limit.

    typed : readings of a sound car, from which the others stay. None where no reading can bring it there.
    """
    limited = [outcome for outcome in test.outcomes if outcome.below is not None]
    below = dice.pick(limited, "limit").below
    away = (2 * dice.chance("away") - 1) * FARTHEST
    values: dict[str, float] = {item.name: parse_reading(typed[item.name], item.unit).value for item in test.reads}

    def excess(name: str, value: float) -> float:
        """Return how far the judged number is above the wanted one when `name` reads `value`."""
        given: dict[str, Value] = {**values, name: value, "vehicle": walk.facts}
        if test.expected is not None:
            given["expected"] = evaluate(test.expected, given)
        assert below is not None
        assert test.judge is not None
        limit = evaluate(below, given)
        return evaluate(test.judge, given) - limit - away * max(abs(limit), 0.5)

    for item in test.reads:  # the first one that makes the judged number rise
        measured_in = unit(item.unit)
        value = _root(lambda number, name=item.name: excess(name, number), measured_in)  # type: ignore[misc]
        if value is None:
            continue
        meter = next((tool for tool in meters_for(walk, test, item.unit) if tool in test.needs.tools), None)
        accuracy = accuracy_for(walk.meters[meter], measured_in) if meter else None
        moved = {**typed, item.name: shown(value, measured_in, accuracy, dice.chance("noise"))}
        try:
            verdict(walk, test, read(walk, test, moved), {})
        except DiagtreeError:
            continue
        return moved
    return None


def _root(excess: Callable[[float], float], measured_in: Unit) -> float | None:
    """Return where the rising function is 0, by bisection; None where it does not cross within what can be read."""
    linear = bool(measured_in.offset)
    low, high = (_COLDEST, _HOTTEST) if linear else (_LOWEST, _HIGHEST)
    try:
        if not excess(low) < 0 < excess(high):
            return None
        for _ in range(100):
            middle = (low + high) / 2 if linear else exp((log(low) + log(high)) / 2)
            low, high = (middle, high) if excess(middle) < 0 else (low, middle)
    except (DiagtreeError, OverflowError, ZeroDivisionError):
        return None
    return low if isfinite(low) else None
