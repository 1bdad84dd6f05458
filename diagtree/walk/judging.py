"""Readings to an outcome on this car: limits computed, uncertainty carried along, closeness told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from diagtree.errors import AnswerError, DiagtreeError
from diagtree.knowledge.limits import (
    Judged,
    LimitError,
    MissingName,
    UnknownFact,
    difference,
    evaluate,
    judge,
    propagate,
)
from diagtree.knowledge.words import Read, Test
from diagtree.physics.meter import accuracy_for, reading_uncertainty, shown_by_car
from diagtree.physics.quantity import Facts, Value
from diagtree.physics.reading import Reading, parse_reading
from diagtree.physics.units import unit
from diagtree.records import dataclass
from diagtree.walk.context import Walk

TypedFacts = Mapping[str, "float | str | Mapping[str, float | str]"]


@dataclass(frozen=True, slots=True)
class Readings:
    """Readings of one test: as typed, parsed, each with its meter and standard uncertainty in the test's unit."""

    typed: Mapping[str, str]
    parsed: Mapping[str, Reading]
    meters: Mapping[str, str]
    deviations: Mapping[str, float]

    @property
    def values(self) -> dict[str, float]:
        """The numbers, in the units the test reads."""
        return {name: reading.value for name, reading in self.parsed.items()}


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the readings mean, with the numbers behind it."""

    judged: Judged
    value: float
    deviation: float
    expected: float | None
    limits: Mapping[str, float]


def read(walk: Walk, test: Test, typed: Mapping[str, str], other_meter: str | None = None) -> Readings:
    """Return the readings as numbers. Raises AnswerError naming the reading, what was typed and what to type."""
    parsed: dict[str, Reading] = {}
    meters: dict[str, str] = {}
    deviations: dict[str, float] = {}
    if other_meter is not None and not any(other_meter in meters_for(walk, test, item.unit) for item in test.reads):
        fit = sorted({tool for item in test.reads for tool in meters_for(walk, test, item.unit)})
        raise AnswerError(
            f"`{other_meter}` is no meter of the house for test `{test.id}`; choose {' or '.join(fit) or 'none'}"
        )
    known = {item.name for item in test.reads}
    for name in typed:
        if name not in known:
            raise AnswerError(f"test `{test.id}` has no reading `{name}`; it reads {', '.join(sorted(known))}")
    for item in test.reads:
        if item.name not in typed:
            raise AnswerError(f"test `{test.id}`: the reading `{item.name}` in {item.unit} is missing")
        try:
            parsed[item.name] = parse_reading(typed[item.name], item.unit)
        except DiagtreeError as error:
            raise AnswerError(f"{item.name.replace('_', ' ')}: {error}") from error
        meter, deviation = _uncertainty(walk, test, item, parsed[item.name], other_meter)
        deviations[item.name] = deviation
        if meter is not None:
            meters[item.name] = meter
    return Readings({name: str(typed[name]) for name in parsed}, parsed, meters, deviations)


def meters_for(walk: Walk, test: Test, unit_text: str) -> list[str]:
    """Return the meters of the house that measure in this unit, those that the test names first."""
    wanted = unit(unit_text)
    fit = [tool for tool, units in walk.meters.items() if accuracy_for(units, wanted) is not None]
    return sorted(fit, key=lambda tool: (tool not in test.needs.tools, tool))


def better_meters(walk: Walk, test: Test, unit_text: str, used: str | None) -> list[str]:
    """Return the meters of the house that read this unit more exactly than the one in use.

    used : meter that was taken in place of the test's own tool. Better is: no worse in per cent and in counts, and
    better in one. Left out is what the catalogue names as a tool of other tests only: an insulation tester reads ohms
    as well, but its 500 V would destroy a sensor.
    """
    fit = meters_for(walk, test, unit_text)
    present = used if used in fit else next((tool for tool in fit if tool in test.needs.tools), None)
    if present is None:
        return []
    special = {tool for other in walk.catalogue.tests.values() for tool in other.needs.tools} - set(test.needs.tools)
    least = accuracy_for(walk.meters[present], unit(unit_text))
    found = []
    for tool in fit:
        own = accuracy_for(walk.meters[tool], unit(unit_text))
        if tool in special or own is None or least is None or own == least:
            continue
        if own.percent <= least.percent and own.counts <= least.counts:
            found.append(tool)
    return found


def _uncertainty(
    walk: Walk, test: Test, item: Read, reading: Reading, other: str | None
) -> tuple[str | None, float]:
    if shown_by_car(item.of):
        return None, 0.0
    fit = meters_for(walk, test, item.unit)
    chosen = other if other in fit else next((tool for tool in fit if tool in test.needs.tools), None)
    if chosen is None:
        return None, 0.0
    accuracy = accuracy_for(walk.meters[chosen], unit(item.unit))
    return chosen, reading_uncertainty(reading, accuracy)


def verdict(walk: Walk, test: Test, readings: Readings, supplied: TypedFacts) -> Verdict:
    """Return what the readings mean on this car.

    supplied : maker's values that the technician gave, by dotted name.
    Raises UnknownFact or MissingName where a maker's value is not known; AnswerError where it cannot be computed.
    """
    assert test.judge is not None
    values: dict[str, Value] = {**readings.values, "vehicle": with_supplied(walk.facts, supplied)}
    try:
        expected = evaluate(test.expected, values) if test.expected is not None else None
        if expected is not None:
            values["expected"] = expected
        value, deviation = propagate(test.judge, values, readings.deviations, test.expected)
        limits: list[tuple[str, float | None]] = []
        for outcome in test.outcomes:
            limits.append((outcome.id, None if outcome.below is None else evaluate(outcome.below, values)))
        for outcome in test.outcomes:
            if outcome.below is not None and set(outcome.below.names) & {*readings.deviations, "expected"}:
                # A limit that moves with a reading brings that reading's uncertainty along.
                gap = difference(test.judge, outcome.below)
                deviation = max(deviation, propagate(gap, values, readings.deviations, test.expected)[1])
        judged = judge(limits, value, deviation)
        if test.safety and judged.close and judged.outcome == test.healthy:
            judged = _on_the_safe_side(test, judged)
    except (UnknownFact, MissingName):
        raise
    except LimitError as error:
        raise AnswerError(f"test `{test.id}` cannot be judged with these readings: {error}") from error
    bounds = {name: limit for name, limit in limits if limit is not None}
    return Verdict(judged, value, deviation, expected, bounds)


def _on_the_safe_side(test: Test, judged: Judged) -> Judged:
    """Return the same with the unhealthy outcome that the uncertainty reaches: a safety limit needs the whole of it."""
    reached = {outcome: chance for outcome, chance in judged.chances.items() if outcome != test.healthy}
    return replace(judged, outcome=max(reached, key=lambda outcome: reached[outcome]))


def with_supplied(facts: Facts, supplied: TypedFacts) -> Facts:
    """Return the profile's facts with the technician's values in their places (`vehicle.inlet.dc_sensor`)."""
    found: dict[str, Facts | float | str] = dict(facts)
    for dotted, value in supplied.items():
        path = dotted.removeprefix("vehicle.").split(".")
        here = found
        for key in path[:-1]:
            below = here.get(key)
            here[key] = dict(below) if isinstance(below, Mapping) else {}
            inner = here[key]
            assert isinstance(inner, dict)
            here = inner
        here[path[-1]] = value
    return found


def missing_fact(error: UnknownFact | MissingName) -> str:
    """Return the dotted name of the maker's value that is missing."""
    name = getattr(error, "path", None) or getattr(error, "name", "")
    return str(name)


def parse_fact(text: str) -> float | str | dict[str, float | str]:
    """Return a maker's value as typed: a number, or `kind name=value ...` (`ntc r25=10000 beta=3435`).

    Raises AnswerError where it is neither.
    """
    words = text.replace(",", ".").split()
    number = _number(words[0]) if len(words) == 1 else None
    if number is not None:
        return number
    if len(words) >= 2 and all("=" in word for word in words[1:]) and "=" not in words[0]:
        found: dict[str, float | str] = {"kind": words[0]}
        for word in words[1:]:
            name, _, value = word.partition("=")
            parsed = _number(value)
            found[name] = value if parsed is None else parsed
        return found
    raise AnswerError(
        f"`{text}` is no maker's value; type a number in the unit the maker prints (3435), or a sensor as "
        "`ntc r25=10000 beta=3435` or `platinum r0=1000`, or `compare` where it is not to be had"
    )


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if abs(value) < 1e12 else None
