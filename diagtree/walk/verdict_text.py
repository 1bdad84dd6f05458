"""What a reading meant, in words: the judged number, its band on this car today, what was expected, the source."""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite

from diagtree.knowledge.limits_nodes import Call, Name
from diagtree.knowledge.test_bands import JUDGED, units_of
from diagtree.knowledge.words import Read, Test
from diagtree.physics.quantity import Facts
from diagtree.physics.sensor_words import sensor_words
from diagtree.physics.units import DEGREE_CELSIUS, Unit, engineering, unit
from diagtree.walk.judging import Readings, Verdict


def verdict_lines(
    test: Test, found: Verdict, readings: Readings | None = None, facts: Facts | None = None
) -> tuple[str, ...]:
    """Return what the numbers meant: the judged value, the band of its outcome on this car, formula and source.

    readings, facts : where they are given, the band says at which temperature, for which sensor and meter it holds.
    """
    judged, units = found.judged, units_of(test)
    lines = [f"{_judged_text(test, found, units)}: {judged.outcome}{' (close)' if judged.close else ''}"]
    lines.append(f"{judged.outcome} means {_band(test, found, units, readings, facts)}")
    if test.safety and judged.close and judged.outcome != test.healthy:
        lines.append(f"a matter of safety: {test.healthy} only with the whole uncertainty on the safe side")
    if test.expected is not None and found.expected is not None:
        lines.append(f"expected here: {_value(found.expected, units['expected'], 4)} = {test.expected.text}")
    lines.append(f"source: {test.source}")
    return tuple(lines)


def _judged_text(test: Test, found: Verdict, units: Mapping[str, Unit | None]) -> str:
    assert test.judge is not None
    shown = _value(found.value, units[JUDGED], 4) if isfinite(found.value) else "above the meter's range"
    spread = f" +/- {_spread(2 * found.deviation, units[JUDGED])}" if found.deviation > 0 else ""
    return f"{test.judge.text} = {shown}{spread}"


def _band(
    test: Test, found: Verdict, units: Mapping[str, Unit | None], readings: Readings | None, facts: Facts | None
) -> str:
    """Return the band of the outcome, in the reading's own unit where the judged number is reading / expected."""
    names = [outcome.id for outcome in test.outcomes]
    place = names.index(found.judged.outcome)
    low = found.limits.get(names[place - 1]) if place else None
    high = found.limits.get(found.judged.outcome)
    against = _against_expected(test)
    scale, measured_in = 1.0, units[JUDGED]
    if against is not None and found.expected:
        scale, measured_in = _in_unit_of(against, found.expected, units["expected"]), unit(against.unit)
    ends = [None if end is None else _value(end * scale, measured_in, 3) for end in (low, high)]
    band = f"between {ends[0]} and {ends[1]}" if None not in ends else f"below {ends[1]}"
    if high is None:
        band = f"{ends[0]} or more"
    at = _at(test, readings) if against is not None else ""
    why = [*_share(low, high), *_sensor(test, facts)] if against is not None else []
    meter = _meter(against, readings) if against is not None else ""
    about = "; ".join(part for part in (", ".join(reversed(why)), meter) if part)
    return f"{band}{at} on this car{f' ({about})' if about else ''}"


def _against_expected(test: Test) -> Read | None:
    """Return the reading that is judged by its ratio to `expected`; None where something else is judged."""
    assert test.judge is not None
    text = test.judge.text.replace(" ", "")
    return next((item for item in test.reads if text == f"{item.name}/expected"), None)


def _in_unit_of(item: Read, expected: float, its_unit: Unit | None) -> float:
    """Return what is expected in the unit of the reading that is set against it."""
    own = unit(item.unit)
    if its_unit is None or its_unit.dimension != own.dimension or its_unit.offset != own.offset:
        return expected
    return expected * float(its_unit.factor / own.factor)


def _at(test: Test, readings: Readings | None) -> str:
    """Return the temperature for which the band was computed, as it was read."""
    names = test.expected.names if test.expected is not None else ()
    at = [item for item in test.reads if item.name in names and unit(item.unit) == DEGREE_CELSIUS]
    if readings is None or len(at) != 1:
        return ""
    return f" at {engineering(readings.values[at[0].name], DEGREE_CELSIUS, 4)}"


def _share(low: float | None, high: float | None) -> list[str]:
    """Return the band as shares of what is expected, where it lies around it: `+/-8 %`, `-15 to +18 %`."""
    if low is None or high is None or not low < 1 < high or high > 2:
        return []
    down, up = 100 * (1 - low), 100 * (high - 1)
    return [f"+/-{up:.3g} %" if abs(up - down) < 1e-6 else f"-{down:.3g} to +{up:.3g} %"]


def _sensor(test: Test, facts: Facts | None) -> list[str]:
    """Return the sensor of the profile that `expected` is computed from."""
    node = test.expected.node if test.expected is not None else None
    if facts is None or not isinstance(node, Call):
        return []
    found = []
    for argument in node.arguments:
        if isinstance(argument, Name) and argument.path[0] == "vehicle":
            part: Facts | float | str | None = facts
            for key in argument.path[1:]:
                part = part.get(key) if isinstance(part, Mapping) else None
            found += [sensor_words(part)] if isinstance(part, Mapping) and "kind" in part else []
    return found


def _meter(item: Read, readings: Readings | None) -> str:
    """Return what the meter may be wrong by at this reading (k = 2)."""
    meter = readings.meters.get(item.name) if readings is not None else None
    if readings is None or meter is None or not readings.deviations[item.name]:
        return ""
    return f"your {meter.replace('-', ' ')} +/-{_spread(2 * readings.deviations[item.name], unit(item.unit))}"


def _value(number: float, measured_in: Unit | None, digits: int) -> str:
    return f"{number:.4g}" if measured_in is None else engineering(number, measured_in, digits)


def _spread(expanded: float, measured_in: Unit | None) -> str:
    """Return an expanded uncertainty, two digits (JCGM 100, 7.2.6); that of a temperature is in kelvins."""
    return _value(expanded, unit("K") if measured_in == DEGREE_CELSIUS else measured_in, 2)
