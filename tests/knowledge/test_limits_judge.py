"""Judging: one outcome for every number, close where the uncertainty reaches over a limit, chances that sum to one."""

from __future__ import annotations

from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from diagtree.knowledge.limits import LimitError, judge

SENSOR = [("shorted", 0.02), ("low", 0.9), ("normal", 1.1), ("high", 50.0), ("open", None)]


@pytest.mark.parametrize(
    ("value", "outcome"),
    [
        (-5.0, "shorted"),
        (0.0199, "shorted"),
        (0.02, "low"),
        (0.9, "normal"),
        (1.0999, "normal"),
        (1.1, "high"),
        (50.0, "open"),
        (inf, "open"),
        (-inf, "shorted"),
    ],
)
def test_a_limit_belongs_to_the_outcome_above_it(value: float, outcome: str) -> None:
    judged = judge(SENSOR, value)
    assert judged.outcome == outcome
    assert not judged.close
    assert judged.chances == {name: float(name == outcome) for name, _ in SENSOR}


def test_a_close_reading_shares_its_chances() -> None:
    judged = judge(SENSOR, 1.09, 0.01)
    assert judged.outcome == "normal"
    assert judged.close
    assert judged.chances["normal"] == pytest.approx(norm.cdf(1), abs=1e-9)
    assert judged.chances["high"] == pytest.approx(1 - norm.cdf(1), abs=1e-9)


def test_above_the_range_is_never_close() -> None:
    assert judge(SENSOR, inf, 10.0) == judge(SENSOR, inf)


def test_an_outcome_without_limits_is_certain() -> None:
    assert judge([("any", None)], 3.0, 1.0).chances == {"any": 1.0}


@pytest.mark.parametrize(
    ("limits", "says"),
    [
        ([("a", 2.0), ("b", 1.0), ("c", None)], "the limits cross: `a` ends at 2, `b` at 1"),
        ([("a", nan), ("b", None)], "not a number"),
        ([("a", 1.0)], "must be open"),
        ([("a", None), ("b", None)], "must be open"),
        ([], "must be open"),
    ],
)
def test_limits_that_cannot_be_judged_say_why(limits: list[tuple[str, float | None]], says: str) -> None:
    with pytest.raises(LimitError, match=says):
        judge(limits, 1.0, 0.5)


def test_nan_is_refused() -> None:
    with pytest.raises(LimitError, match="not a number"):
        judge(SENSOR, nan)


LIMITS = st.lists(st.floats(-100, 100), max_size=5).map(
    lambda edges: [(f"o{index}", edge) for index, edge in enumerate(sorted(edges))] + [("last", None)]
)


@given(LIMITS, st.floats(-120, 120), st.floats(0, 20))
@settings(deadline=None)
def test_chances_sum_to_one_and_the_outcome_has_some(
    limits: list[tuple[str, float | None]], value: float, u: float
) -> None:
    judged = judge(limits, value, u)
    assert sum(judged.chances.values()) == pytest.approx(1, abs=1e-12)
    assert list(judged.chances) == [name for name, _ in limits]
    edges = [edge for _, edge in limits if edge is not None]
    assert judged.close is any(abs(value - edge) < 2 * u for edge in edges)
    assert judged.outcome == limits[sum(edge <= value for edge in edges)][0]


@given(LIMITS, st.floats(-120, 120), st.floats(0, 50), st.floats(0.01, 20))
@settings(deadline=None)
def test_a_higher_reading_is_never_more_likely_among_the_lower_outcomes(
    limits: list[tuple[str, float | None]], value: float, more: float, u: float
) -> None:
    """Of two close readings the higher one has no more chance below any limit."""
    low, high = judge(limits, value, u), judge(limits, value + more, u)
    if low.close and high.close:
        below_low = below_high = 0.0
        for name, _ in limits:
            below_low += low.chances[name]
            below_high += high.chances[name]
            assert below_high <= below_low + 1e-12
