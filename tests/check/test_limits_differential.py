"""Limits and outcomes against dense sampling of the readings: what is told is true, what shows is told."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise, product
from math import inf

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagtree.check.limits_order import crossed, impossible
from diagtree.check.physical_range import physical_range
from diagtree.check.readings import Bench
from diagtree.check.subject import Car, Subject
from diagtree.knowledge.library import read_library
from diagtree.knowledge.limits import LimitError, evaluate
from diagtree.knowledge.words import Test
from diagtree.physics.units import unit

SLOW = [HealthCheck.too_slow]
VEHICLE = """
vehicle: petrel
sensor: {kind: ntc, r25: 10000, beta: 3435}
limit: 40
low_limit: 60
unknown_one: unknown
"""
NUMBERS = ["-30", "-5", "0", "0.02", "0.9", "1", "1.1", "20", "50", "230", "1000", "vehicle.limit", "vehicle.low_limit"]
MOVING = ["0.9 * r", "1.1 * r", "t + 5", "t - 5", "r / 2", "expected", "1.2 * expected", "max(r, 100)", "abs(t)", "-r"]
JUDGES = ["r", "t", "r / expected", "t - 20", "r - t", "r * t", "r / (1 + r)", "min(r, 1000)", "expected", "abs(t)"]
UNITS = [("ohm", "degC"), ("V", "degC"), ("percent", "s"), ("kohm", "K")]


@st.composite
def limited(draw: st.DrawFn) -> str:
    """Return the YAML of one test `x` of two readings with two or three limits, in order or not."""
    limits = draw(st.lists(st.sampled_from([*NUMBERS, *MOVING]), min_size=2, max_size=3))
    r, t = draw(st.sampled_from(UNITS))
    lines = ["tests:", "  x:", "    ask: What is it?", "    place: reception", "    minutes: 1"]
    lines += [f"    reads: {{r: {r}, t: {t}}}", f"    judge: {draw(st.sampled_from(JUDGES))}"]
    if t == "degC":
        lines.append("    expected: sensor_resistance(t, vehicle.sensor)")
    else:
        lines.append("    expected: r + 1")
    lines.append("    outcomes:")
    lines += [f"      o{number}: below {limit}" for number, limit in enumerate(limits)]
    lines += [f"      o{len(limits)}: otherwise", "    healthy: o0", "    source: made up"]
    return "\n".join(lines) + "\n"


def on_car(text: str) -> tuple[Test, Car] | None:
    """Return the test as it is on the car; None where the reader refuses it (units that do not meet)."""
    car = Subject(read_library({"catalogue/x.yaml": text, "vehicles/petrel.yaml": VEHICLE})).cars[1]
    return (car.catalogue.tests["x"], car) if car.readable else None


def dense(unit_text: str) -> list[float]:
    """Return many values over the range of a unit: evenly and by decades."""
    low, high = physical_range(unit_text).finite
    evenly = [low + (high - low) * step / 40 for step in range(41)]
    decades = [sign * 10 ** (power / 3) for power in range(-9, 19) for sign in (1, -1)]
    return sorted(value for value in {*evenly, *decades, 0.0, 20.0} if low <= value <= high)


def sampled(test: Test, car: Car) -> list[tuple[float, list[float]]]:
    """Return the judged number and the limits at every point of a grid, computed here on their own."""
    assert test.judge is not None
    assert test.expected is not None
    assert car.vehicle is not None
    found = []
    for point in product(*(dense(read.unit) for read in test.reads)):
        values: dict[str, object] = dict(zip([read.name for read in test.reads], point, strict=True))
        values["vehicle"] = car.vehicle.facts
        try:
            values["expected"] = evaluate(test.expected, values)  # type: ignore[arg-type]
            edges = [evaluate(one.below, values) for one in test.outcomes if one.below is not None]  # type: ignore[arg-type]
            found.append((evaluate(test.judge, values), edges))  # type: ignore[arg-type]
        except LimitError:
            continue
    return found


def numbers(said: Mapping[str, str]) -> dict[str, float]:
    return {name: inf if text == "OL" else float(text) for name, text in said.items()}


@settings(max_examples=60, deadline=None, suppress_health_check=SLOW)
@given(text=limited())
def test_limits_and_outcomes_against_a_dense_grid(text: str) -> None:
    known = on_car(text)
    if known is None:
        return
    test, car = known
    points = sampled(test, car)
    told = {(one.lower.id, one.upper.id) for one in crossed(test, car)}
    ids = test.outcome_ids()
    for number, pair in enumerate(pairwise(ids[:-1])):
        if any(edges[number] >= edges[number + 1] for _, edges in points):
            assert pair in told, f"{pair} cross in {text}"
    for one in crossed(test, car):  # what is told is shown: by the limits themselves, at the readings that are named
        assert one.limits[0] >= one.limits[1]
        if one.readings is not None:
            shown = car.bench("x").limits(numbers(one.readings.readings))[1]
            assert shown[ids.index(one.lower.id)] >= shown[ids.index(one.upper.id)]
    never = {outcome.id for outcome in impossible(test, car)}
    for value, edges in points:
        if all(low <= high for low, high in pairwise(edges)):
            place = next((number for number, edge in enumerate(edges) if value < edge), len(edges))
            assert ids[place] not in never, f"{ids[place]} is called impossible in {text}"


@settings(max_examples=100, deadline=None, suppress_health_check=SLOW)
@given(text=limited())
def test_readings_that_are_given_for_an_outcome_give_it(text: str) -> None:
    known = on_car(text)
    if known is None:
        return
    test, car = known
    bench = car.bench("x")
    for outcome in test.outcome_ids():
        solved = bench.solve(outcome)
        assert (solved is not None) == bench.gives(outcome)
        if solved is not None:
            number = bench.outcome(numbers(solved.readings))
            assert number is not None
            assert test.outcome_ids()[number] == outcome


# Outcomes that nobody can read, and near misses that somebody can.
LONE = {
    "ohm below -1": ("ohm", ["below -1", "below 5", "otherwise"], {"o0"}),
    "ohm below 0": ("ohm", ["below 0", "below 5", "otherwise"], {"o0"}),
    "ohm from 0": ("ohm", ["below 0.000001", "otherwise"], set()),
    "ohm open": ("ohm", ["below 1e13", "otherwise"], set()),  # OL
    "volts": ("V", ["below 230", "below 2300", "otherwise"], {"o2"}),
    "kilovolts by mistake": ("kV", ["below 207", "below 253", "otherwise"], {"o1", "o2"}),
    "degrees": ("degC", ["below -300", "below 85", "otherwise"], {"o0"}),
    "kohm": ("kohm", ["below 0", "otherwise"], {"o0"}),
}


@pytest.mark.parametrize("name", LONE)
def test_a_lone_reading_against_its_physical_range(name: str) -> None:
    unit_text, limits, wanted = LONE[name]
    assert unit(unit_text)
    assert {one.id for one in impossible(*lone(unit_text, "r", limits))} == wanted


# The same through arithmetic: proven by intervals over boxes, or left alone.
COMPUTED = {
    "a ratio of resistances is never negative": ("r / s", ["below 0", "below 2", "otherwise"], {"o0"}),
    "a reading that is used twice counts as two": ("r / (r + s + 1)", ["below 0.5", "below 2", "otherwise"], set()),
    "a ratio of open readings": ("(r + 1) / (s + 1)", ["below 0", "below 2", "otherwise"], {"o0"}),
    "a difference may be anything": ("r - s", ["below -5", "below 5", "otherwise"], set()),
    "a ratio against itself": ("r / s", ["below 0.9", "below 1.1", "otherwise"], set()),
    "an absolute difference": ("abs(r - s)", ["below 0", "below 5", "otherwise"], {"o0"}),
}


@pytest.mark.parametrize("name", COMPUTED)
def test_a_computed_number_against_physical_ranges(name: str) -> None:
    judge, limits, wanted = COMPUTED[name]
    assert {one.id for one in impossible(*lone("ohm", judge, limits))} == wanted


def lone(unit_text: str, judge: str, limits: list[str]) -> tuple[Test, Car]:
    outcomes = "".join(f"      o{number}: {limit}\n" for number, limit in enumerate(limits))
    text = (
        "tests:\n  x:\n    ask: What?\n    place: reception\n    minutes: 1\n"
        f"    reads: {{r: {unit_text}, s: {unit_text}}}\n    judge: {judge}\n    outcomes:\n{outcomes}"
        "    healthy: o1\n    source: made up\n"
    )
    known = on_car(text)
    assert known is not None, text
    return known


def test_limits_that_follow_the_same_reading_do_not_seem_to_cross() -> None:
    # Plain interval arithmetic takes `expected` twice as two numbers: over the whole range these limits overlap.
    limits = ["below 0.9 * expected", "below 1.1 * expected", "otherwise"]
    text = expected_test(limits)
    known = on_car(text)
    assert known is not None
    assert crossed(*known) == ()


def test_limits_that_cross_only_when_it_is_cold_are_found_there() -> None:
    known = on_car(expected_test(["below 20000", "below expected", "otherwise"]))
    assert known is not None
    (one,) = crossed(*known)
    assert one.readings is not None
    assert one.limits[0] >= one.limits[1]


def expected_test(limits: list[str]) -> str:
    outcomes = "".join(f"      o{number}: {limit}\n" for number, limit in enumerate(limits))
    return (
        "tests:\n  x:\n    ask: What?\n    place: reception\n    minutes: 1\n    reads: {r: ohm, t: degC}\n"
        "    expected: sensor_resistance(t, vehicle.sensor)\n    judge: r\n    outcomes:\n" + outcomes
        + "    healthy: o1\n    source: made up\n"
    )


def test_a_maker_s_value_that_is_unknown_says_nothing() -> None:
    known = on_car(expected_test(["below 5", "below vehicle.unknown_one", "otherwise"]))
    assert known is not None
    assert crossed(*known) == ()
    assert impossible(*known) == ()


def test_readings_lie_well_inside_and_at_20_degrees() -> None:
    known = on_car(expected_test(["below 0.9 * expected", "below 1.1 * expected", "otherwise"]))
    assert known is not None
    bench = Bench(known[0], known[1].vehicle.facts if known[1].vehicle else {})
    solved = bench.solve("o1")
    assert solved is not None
    found = numbers(solved.readings)
    assert found["t"] == 20
    expected = bench.limits(found)[1][0] / 0.9
    assert 0.95 < found["r"] / expected < 1.05
