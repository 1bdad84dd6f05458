"""Ranges of arithmetic: the truth, sampled, is always inside."""

from __future__ import annotations

from math import inf
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from diagtree.knowledge.limits import LimitError, MissingName, UnknownFact, evaluate, interval, parse_expression

CAR: dict[str, Any] = {
    "sensor": {"kind": "ntc", "r25": 10000.0, "beta": 3435.0},
    "table": {"kind": "ntc", "table": {"0": 27326.0, "25": 10000.0, "50": 4161.0, "85": 1451.0}},
    "platinum": {"kind": "platinum", "r0": 1000.0},
    "unknown": "unknown",
    "lead": 2.0,
}

BOUNDED = [
    ("5", {}, (5, 5)),
    ("a + b", {"a": (1, 2), "b": (10, 20)}, (11, 22)),
    ("a - b", {"a": (1, 2), "b": (10, 20)}, (-19, -8)),
    ("a * b", {"a": (-1, 2), "b": (-3, 4)}, (-6, 8)),
    ("a / b", {"a": (1, 2), "b": (4, 8)}, (0.125, 0.5)),
    ("a / b", {"a": (1, 2), "b": (-1, 8)}, (-inf, inf)),
    ("a / b", {"a": (1, 2), "b": (0, 8)}, (0.125, inf)),
    ("a / b", {"a": (-2, 0), "b": (-4, 0)}, (0, inf)),
    ("a / b", {"a": (0, inf), "b": (0, inf)}, (0, inf)),
    ("a / b", {"a": (0, inf), "b": (1000, 2000)}, (0, inf)),
    ("a / b", {"a": (1, inf), "b": (1, inf)}, (0, inf)),
    ("b / a", {"a": (1, inf), "b": 3.0}, (0, 3)),
    ("a * b", {"a": (0, inf), "b": (0, 2)}, (0, inf)),
    ("a - b", {"a": (0, inf), "b": (0, inf)}, (-inf, inf)),
    ("-a", {"a": (1, 2)}, (-2, -1)),
    ("abs(a)", {"a": (-3, 2)}, (0, 3)),
    ("abs(a)", {"a": (-3, -2)}, (2, 3)),
    ("min(a, b, 3)", {"a": (1, 5), "b": (2, 9)}, (1, 3)),
    ("max(a, b, 3)", {"a": (1, 5), "b": (2, 9)}, (3, 9)),
    ("round(a)", {"a": (0.4, 1.6)}, (0, 2)),
    ("a * vehicle.lead", {"a": (1, 2)}, (2, 4)),
    ("ntc(a, vehicle.sensor)", {"a": 25.0}, (10000, 10000)),
    ("ntc(a, vehicle.sensor)", {"a": (25, 25)}, (10000, 10000)),
    ("ntc(a, vehicle.sensor)", {"a": (-inf, inf)}, None),
]


@pytest.mark.parametrize(("text", "ranges", "wanted"), BOUNDED, ids=[f"{row[0]} {row[1]}" for row in BOUNDED])
def test_ranges_of_arithmetic(text: str, ranges: dict[str, Any], wanted: tuple[float, float] | None) -> None:
    found = interval(parse_expression(text), {**ranges, "vehicle": CAR})
    if wanted is None:  # cut to the range in which the formula holds, -100 to 400 degC
        hot, cold = (evaluate(parse_expression(text), {"a": at, "vehicle": CAR}) for at in (400.0, -100.0))
        wanted = (hot, cold)
    assert found == pytest.approx(wanted)


FORMULAS = [
    "a + b * c",
    "(a - b) / c",
    "a / (b + c)",
    "abs(a - b) * c",
    "min(a, b) - max(b, c)",
    "round(a / 7, 1) * b",
    "-a * -b / 3 - c",
    "ntc(a, vehicle.sensor) / (b + 2000)",
    "a / ntc(b, vehicle.sensor)",
    "platinum(a, vehicle.platinum) - b",
    "ntc(b, vehicle.table) * c",
    "ntc(min(b, 80), vehicle.table) + abs(c)",
    "sensor_temperature(abs(a) * 100 + 5000, vehicle.sensor)",
]
RANGE = st.tuples(st.floats(-60, 90), st.floats(0, 60)).map(lambda part: (part[0], part[0] + part[1]))


@given(
    st.sampled_from(FORMULAS), RANGE, RANGE, RANGE, st.lists(st.tuples(*[st.floats(0, 1)] * 3), min_size=5, max_size=20)
)
@example(  # a table that begins just inside the range, and is steepest there
    "ntc(min(b, 80), vehicle.table) + abs(c)", (0.0, 0.0), (-1.2e-07, 0.99999988), (0.0, 0.0), [(0.0, 1.6741e-06, 0.0)]
)
@settings(deadline=None, max_examples=300)
def test_the_sampled_truth_is_inside(
    text: str, a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], places: list[Any]
) -> None:
    expr = parse_expression(text)
    ranges = {"a": a, "b": b, "c": c}
    try:
        low, high = interval(expr, {**ranges, "vehicle": CAR})
    except LimitError:
        low, high = inf, -inf  # then no sample may have a value either
    for place in places:
        sample = {
            name: min(end, start + (end - start) * share)
            for (name, (start, end)), share in zip(ranges.items(), place, strict=True)
        }
        try:
            value = evaluate(expr, {**sample, "vehicle": CAR})
        except LimitError:
            continue
        spare = 1e-9 * max(1.0, abs(value))
        assert low - spare <= value <= high + spare


def test_expected_is_bounded_too() -> None:
    ratio, expected = parse_expression("resistance / expected"), parse_expression("ntc(temperature, vehicle.sensor)")
    low, high = interval(ratio, {"resistance": (0.0, inf), "temperature": (-40.0, 85.0), "vehicle": CAR}, expected)
    assert (low, high) == (0, inf)
    low, high = interval(ratio, {"resistance": (900.0, 1100.0), "temperature": (25.0, 25.0), "vehicle": CAR}, expected)
    assert (low, high) == pytest.approx((0.09, 0.11))


@pytest.mark.parametrize(
    ("text", "error", "says"),
    [
        ("a / 0", LimitError, "always 0"),
        ("zz", MissingName, "no reading `zz`"),
        ("vehicle.unknown", UnknownFact, "unknown"),
        ("ntc(a, vehicle.unknown)", UnknownFact, "unknown"),
        ("ntc(a + 1000, vehicle.sensor)", LimitError, "outside -100"),
    ],
)
def test_what_has_no_range_says_why(text: str, error: type[LimitError], says: str) -> None:
    with pytest.raises(error, match=says):
        interval(parse_expression(text), {"a": (0.0, 1.0), "vehicle": CAR})


def test_an_empty_range_is_refused() -> None:
    with pytest.raises(LimitError, match="empty"):
        interval(parse_expression("a"), {"a": (2.0, 1.0)})
