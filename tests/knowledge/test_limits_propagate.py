"""Uncertainty through arithmetic, against the `uncertainties` library and against a thousand draws."""

from __future__ import annotations

from math import exp, inf, sqrt
from random import Random
from statistics import stdev
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from uncertainties import ufloat, umath

from diagtree.knowledge.limits import (
    LimitError,
    UnknownFact,
    difference,
    evaluate,
    parse_expression,
    propagate,
    with_units,
)
from diagtree.physics.units import unit

CAR: dict[str, Any] = {"sensor": {"kind": "ntc", "r25": 10000.0, "beta": 3435.0}, "other": "unknown"}
RATIO = parse_expression("resistance / expected")
EXPECTED = parse_expression("ntc(temperature, vehicle.sensor)")


@given(
    resistance=st.floats(100, 1e6),
    temperature=st.floats(-30, 90),
    of_resistance=st.floats(1e-4, 0.05),
    of_temperature=st.floats(0.01, 2),
)
@settings(deadline=None)
def test_a_ratio_carries_both_meters_errors(
    resistance: float, temperature: float, of_resistance: float, of_temperature: float
) -> None:
    """Second opinion: the same formula written out with automatic differentiation."""
    spread = of_resistance * resistance
    kelvin = ufloat(temperature, of_temperature) + 273.15
    theirs = ufloat(resistance, spread) / (10000.0 * umath.exp(3435.0 * (1 / kelvin - 1 / 298.15)))
    value, uncertainty = propagate(
        RATIO,
        {"resistance": resistance, "temperature": temperature, "vehicle": CAR},
        {"resistance": spread, "temperature": of_temperature},
        EXPECTED,
    )
    assert value == pytest.approx(theirs.nominal_value, rel=1e-9)
    assert uncertainty == pytest.approx(theirs.std_dev, rel=1e-4)


FORMULAS = [
    "a + b - c",
    "a * b / c",
    "(a - b) / (a + c)",
    "a * a + 3 * b - c / 7",
    "abs(a) * 2 - b",
    "-(a + b) * c",
    "a / b",
    "5",
    "max(a, b + 1000) / c",
]


@given(st.sampled_from(FORMULAS), *[st.floats(0.5, 50), st.floats(0.5, 50), st.floats(0.5, 50)], st.floats(1e-6, 0.2))
@settings(deadline=None, max_examples=200)
def test_arithmetic_agrees_with_the_uncertainties_library(
    text: str, a: float, b: float, c: float, relative: float
) -> None:
    readings = {"a": a, "b": b, "c": c}
    spreads = {name: relative * value for name, value in readings.items()}
    measured = {name: ufloat(value, spreads[name]) for name, value in readings.items()}
    functions = {
        "abs": lambda part: part if part.n >= 0 else -part,
        "max": lambda one, two: max(one, two, key=lambda part: part.n),
    }
    theirs = eval(text, {"__builtins__": {}, **functions}, measured)
    nominal, spread = (theirs.n, theirs.s) if hasattr(theirs, "n") else (theirs, 0.0)
    value, uncertainty = propagate(parse_expression(text), readings, spreads)
    assert value == pytest.approx(nominal)
    assert uncertainty == pytest.approx(spread, rel=1e-4, abs=1e-9)


def test_a_thousand_draws_spread_as_far() -> None:
    """12.0 k at 18 degC, meters of 1 % and 0.5 K: the spread of drawn ratios is the one computed (within 5 %)."""
    dice = Random(20)
    drawn = [
        dice.gauss(12000, 120) / (10000 * exp(3435 * (1 / (dice.gauss(18, 0.5) + 273.15) - 1 / 298.15)))
        for _ in range(4000)
    ]
    _, uncertainty = propagate(
        RATIO,
        {"resistance": 12000.0, "temperature": 18.0, "vehicle": CAR},
        {"resistance": 120.0, "temperature": 0.5},
        EXPECTED,
    )
    assert stdev(drawn) == pytest.approx(uncertainty, rel=0.05)


@given(st.floats(-1e6, 1e6), st.floats(1e-6, 1e3))
@settings(deadline=None)
def test_a_reading_alone_keeps_its_own_uncertainty(reading: float, spread: float) -> None:
    assert propagate(parse_expression("reading"), {"reading": reading}, {"reading": spread}) == (
        reading,
        pytest.approx(spread, rel=1e-6),
    )


def test_readings_add_as_independent() -> None:
    assert propagate(parse_expression("a + b"), {"a": 1.0, "b": 2.0}, {"a": 3.0, "b": 4.0}) == (3.0, pytest.approx(5.0))


def test_a_reading_used_twice_is_one_reading() -> None:
    value, uncertainty = propagate(parse_expression("a + a"), {"a": 1.0}, {"a": 3.0})
    assert (value, uncertainty) == (2.0, pytest.approx(6.0))
    assert propagate(parse_expression("a - a"), {"a": 1.0}, {"a": 3.0}) == (0.0, 0.0)


def test_readings_that_are_not_used_or_have_no_meter_add_nothing() -> None:
    assert propagate(parse_expression("a"), {"a": 1.0, "b": 2.0}, {"b": 5.0, "a": 0.0}) == (1.0, 0.0)


def test_above_the_range_there_is_no_uncertainty() -> None:
    readings = {"resistance": inf, "temperature": 18.0, "vehicle": CAR}
    assert propagate(RATIO, readings, {"resistance": 5.0, "temperature": 0.5}, EXPECTED) == (inf, 0.0)
    assert propagate(parse_expression("min(a, b)"), {"a": inf, "b": 2.0}, {"a": 1.0, "b": 0.5}) == (
        2.0,
        pytest.approx(0.5),
    )


def test_at_the_edge_of_a_formulas_range_one_side_is_enough() -> None:
    """The sensor's curve ends at 400 degC; a reading exactly there still has its slope."""
    curve = parse_expression("ntc(temperature, vehicle.sensor)")
    _, at_edge = propagate(curve, {"temperature": 400.0, "vehicle": CAR}, {"temperature": 0.5})
    _, inside = propagate(curve, {"temperature": 399.9, "vehicle": CAR}, {"temperature": 0.5})
    assert at_edge == pytest.approx(inside, rel=0.01)


def test_an_unknown_fact_is_named_through_expected() -> None:
    with pytest.raises(UnknownFact, match=r"vehicle\.other"):
        propagate(RATIO, {"resistance": 1.0, "vehicle": CAR}, {}, parse_expression("vehicle.other"))


@given(st.sampled_from(FORMULAS), st.floats(), st.floats(), st.floats(), st.floats(0, 1e300))
@settings(deadline=None)
def test_any_numbers_give_a_value_or_a_limit_error(text: str, a: float, b: float, c: float, spread: float) -> None:
    assume(a == a and b == b and c == c)
    try:
        value, uncertainty = propagate(parse_expression(text), {"a": a, "b": b, "c": c}, dict.fromkeys("abc", spread))
    except LimitError:
        return
    assert value == value
    assert uncertainty >= 0


def test_a_limit_that_moves_with_the_reading_takes_part_of_its_uncertainty() -> None:
    """Judged `a`, limit `a / 2 + 1`: only half of its uncertainty is between them; conversions are kept."""
    gap = difference(parse_expression("a"), parse_expression("a / 2 + 1"))
    assert propagate(gap, {"a": 10.0}, {"a": 0.4}) == (4.0, pytest.approx(0.2))
    limit, _ = with_units(parse_expression("b"), {"b": "ohm"}, unit("kohm"))
    assert evaluate(difference(parse_expression("a"), limit), {"a": 12.0, "b": 10000.0}) == 2.0
    long = parse_expression(" + ".join(["a"] * 18).ljust(200))
    assert evaluate(difference(long, long), {"a": 1.0}) == 0.0


def test_a_root_of_squares_is_what_it_says() -> None:
    _, uncertainty = propagate(parse_expression("a * b"), {"a": 10.0, "b": 20.0}, {"a": 0.1, "b": 0.4})
    assert uncertainty == pytest.approx(sqrt((20 * 0.1) ** 2 + (10 * 0.4) ** 2))
