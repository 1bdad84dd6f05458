"""Meter accuracy and guard bands: laws that must hold for every meter. The published rows stand in tests/published."""

from __future__ import annotations

from math import inf, nan, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from diagtree.errors import OutOfRange
from diagtree.physics.meter import (
    Accuracy,
    Conformity,
    accuracy_for,
    chance_of_conforming,
    conformity,
    expanded_uncertainty,
    false_acceptance_at_limit,
    interval_chances,
    is_close,
    lower_acceptance_limit,
    normal_below,
    reading_uncertainty,
    safely_above,
    safely_below,
    specified_error,
    standard_uncertainty,
    upper_acceptance_limit,
)
from diagtree.physics.reading import parse_reading
from diagtree.physics.units import unit

VALUES = st.floats(-1e6, 1e6)
SPREADS = st.floats(1e-3, 1e5)


def test_the_last_digit_as_typed_sets_the_counts() -> None:
    """0.9 % + 3 counts on 12.4 k: 111.6 + 300 ohm; on 12.40 k only 111.6 + 30 ohm."""
    meter = Accuracy(0.9, 3)
    coarse, fine = parse_reading("12.4 k", "ohm"), parse_reading("12.40 k", "ohm")
    assert specified_error(meter, coarse.value, coarse.last_digit) == pytest.approx(411.6)
    assert specified_error(meter, fine.value, fine.last_digit) == pytest.approx(141.6)
    assert reading_uncertainty(coarse, meter) == pytest.approx(411.6 / sqrt(3))


def test_without_a_meter_or_above_its_range_there_is_no_uncertainty() -> None:
    assert reading_uncertainty(parse_reading("12.4", "ohm"), None) == 0
    assert reading_uncertainty(parse_reading("OL", "ohm"), Accuracy(0.9, 3)) == 0


def test_a_meter_is_found_by_the_dimension_of_the_unit() -> None:
    ohm, kohm = Accuracy(0.9, 3), Accuracy(0.5, 2)
    assert accuracy_for({"ohm": ohm, "V": Accuracy(0.5, 2)}, unit("kohm")) is ohm
    assert accuracy_for({"ohm": ohm, "kohm": kohm}, unit("kohm")) is kohm
    assert accuracy_for({"ohm": ohm}, unit("V")) is None


@pytest.mark.parametrize(("percent", "counts"), [(-0.1, 0), (0, -1), (nan, 0), (0, inf)])
def test_impossible_accuracies_are_refused(percent: float, counts: float) -> None:
    with pytest.raises(OutOfRange, match="from 0 upwards"):
        Accuracy(percent, counts)


@pytest.mark.parametrize(("reading", "digit"), [(inf, 1), (nan, 1), (1, -1), (1, nan)])
def test_readings_without_a_specified_error_are_refused(reading: float, digit: float) -> None:
    with pytest.raises(OutOfRange):
        specified_error(Accuracy(1, 1), reading, digit)


@given(VALUES, SPREADS, VALUES)
@settings(deadline=None)
def test_the_normal_distribution_agrees_with_scipy(value: float, spread: float, limit: float) -> None:
    assert normal_below(limit, value, spread) == pytest.approx(norm.cdf(limit, value, spread), rel=1e-9, abs=1e-300)


@given(VALUES, SPREADS | st.just(0.0), st.lists(VALUES, max_size=6).map(sorted))
@settings(deadline=None)
def test_chances_sum_to_one(value: float, spread: float, limits: list[float]) -> None:
    chances = interval_chances(limits, value, spread)
    assert len(chances) == len(limits) + 1
    assert sum(chances) == pytest.approx(1, abs=1e-12)
    assert all(0 <= chance <= 1 for chance in chances)


@given(VALUES, st.floats(0, 1e3), SPREADS, VALUES)
@settings(deadline=None)
def test_a_higher_reading_is_never_more_likely_below(value: float, more: float, spread: float, limit: float) -> None:
    assert normal_below(limit, value + more, spread) <= normal_below(limit, value, spread)


@given(VALUES, VALUES, SPREADS)
@settings(deadline=None)
def test_close_means_that_neither_side_is_certain_to_two_deviations(value: float, limit: float, spread: float) -> None:
    chance = normal_below(limit, value, spread)
    certain = max(chance, 1 - chance)
    if is_close([limit], value, 2 * spread):
        assert certain <= norm.cdf(2) + 1e-9
    else:
        assert certain >= norm.cdf(2) - 1e-9


def test_over_range_is_never_close() -> None:
    assert not is_close([1.0], inf, 5.0)


def test_a_reading_exactly_on_a_limit_is_close_only_with_an_uncertainty() -> None:
    assert is_close([1.0], 1.0, 0.1)
    assert not is_close([1.0], 1.0, 0.0)


@given(VALUES, st.floats(0, 1e5), VALUES)
@settings(deadline=None)
def test_the_four_results_follow_the_acceptance_limit(value: float, guard: float, limit: float) -> None:
    result = conformity(value, guard, upper=limit)
    if result is Conformity.PASS:
        assert value <= upper_acceptance_limit(limit, guard) + 1e-6
    elif result is Conformity.CONDITIONAL_PASS:
        assert upper_acceptance_limit(limit, guard) - 1e-6 <= value <= limit
    elif result is Conformity.CONDITIONAL_FAIL:
        assert limit < value <= limit + guard + 1e-6
    else:
        assert value >= limit + guard - 1e-6


def test_a_lower_limit_mirrors_an_upper_one() -> None:
    assert conformity(41.2, 1.291, lower=40) is Conformity.CONDITIONAL_PASS
    assert conformity(45.0, 1.357, lower=40) is Conformity.PASS
    assert conformity(39.0, 1.3, lower=40) is Conformity.CONDITIONAL_FAIL
    assert conformity(38.0, 1.3, lower=40) is Conformity.FAIL
    assert conformity(inf, 1.0, lower=40) is Conformity.PASS
    assert conformity(inf, 1.0, upper=40) is Conformity.FAIL
    assert lower_acceptance_limit(40, 1.291) == 41.291


@given(st.floats(-1e4, 1e4), st.floats(0, 100), st.floats(1, 100))
@settings(deadline=None)
def test_a_safety_limit_takes_the_whole_uncertainty_on_the_safe_side(value: float, error: float, limit: float) -> None:
    expanded = expanded_uncertainty(error)
    if safely_below(value, limit, expanded):
        assert -limit < value - expanded
        assert value + expanded < limit


@pytest.mark.parametrize("value", [60.0, -60.0, 59.9, inf, -inf, nan])
def test_what_is_not_surely_below_is_not_safe(value: float) -> None:
    assert not safely_below(value, 60.0, 0.2)
    assert safely_below(59.7, 60.0, 0.2)


def test_safely_above_needs_the_whole_uncertainty_too() -> None:
    assert safely_above(41.3, 40, 1.29)
    assert not safely_above(41.2, 40, 1.29)
    assert not safely_above(nan, 40, 1.0)


@given(VALUES, SPREADS, VALUES, SPREADS)
@settings(deadline=None)
def test_conforming_between_two_limits_is_the_difference(value: float, spread: float, low: float, width: float) -> None:
    both = chance_of_conforming(value, spread, low, low + width)
    assert both == pytest.approx(norm.cdf(low + width, value, spread) - norm.cdf(low, value, spread), abs=1e-12)


@given(st.floats(0, 3), st.floats(0, 1))
@settings(deadline=None)
def test_a_wider_guard_band_never_accepts_more_falsely(ratio: float, more: float) -> None:
    assert false_acceptance_at_limit(ratio + more) <= false_acceptance_at_limit(ratio) <= 0.5


@pytest.mark.parametrize("limits", [[2.0, 1.0], [nan], [1.0, nan, 2.0]])
def test_limits_that_do_not_ascend_are_refused(limits: list[float]) -> None:
    with pytest.raises(OutOfRange, match="must ascend"):
        interval_chances(limits, 1.0, 1.0)


@pytest.mark.parametrize("error", [-1.0, nan, inf])
def test_impossible_errors_are_refused(error: float) -> None:
    with pytest.raises(OutOfRange):
        standard_uncertainty(error)
