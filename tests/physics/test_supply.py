"""Proximity, power, residual current, time-outs: ends of ranges and what is refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import OutOfRange
from diagtree.physics.data import TIME_OUTS, Mark
from diagtree.physics.proximity_circuit import CODING
from diagtree.physics.quantity import quantity
from diagtree.physics.verdict import verdict


def number(name, *inputs, **named):
    return quantity(name).compute(*inputs, **named)


@settings(max_examples=200, deadline=None)
@given(one=st.floats(60.0, 4500.0), other=st.floats(60.0, 4500.0))
def test_more_ohms_in_the_plug_never_allow_more_current(one, other):
    """Between two bands the lower current holds, so the coding is one falling staircase."""
    low, high = sorted((one, other))
    assert number("proximity-current", low) >= number("proximity-current", high)


@pytest.mark.parametrize("gap", [(140.0, 164.0), (308.0, 400.0), (936.0, 1100.0)])
def test_every_gap_takes_the_lower_current(gap):
    """A value between two bands has the current of the band above it in ohms, and says so."""
    low, high = gap
    middle = (low + high) / 2.0
    assert number("proximity-current", middle) == number("proximity-current", high) < number("proximity-current", low)
    assert "lower" in verdict("proximity-coding").compute(middle)
    assert "lower" not in verdict("proximity-coding").compute(high)


def test_only_the_thickest_cable_differs_by_phases():
    """70 A on one phase for 100 ohm; all others alike."""
    assert number("proximity-current", 100.0, 1.0) == 70.0
    for low, _, current in CODING[1:]:
        assert number("proximity-current", low, 1.0) == number("proximity-current", low) == current


@pytest.mark.parametrize("ohms", [0.0, 59.9, 4500.1, math.inf])
def test_short_and_open_plugs_are_no_cable(ohms):
    """0 A, and the word fault."""
    assert number("proximity-current", ohms) == 0.0
    assert verdict("proximity-coding").compute(ohms) == "fault: counts as no cable"


@pytest.mark.parametrize("pull_down", [2700.0, 4700.0])
def test_pin_voltage_at_its_ends(pull_down):
    """A short is 0 V; no plug is the divider alone; a little above that is still no plug; half-way up is a fault."""
    empty = number("proximity-voltage", math.inf, pull_down)
    assert number("proximity-voltage", 0.0, pull_down) == 0.0
    assert number("proximity-resistance", 0.0, pull_down) == 0.0
    assert number("proximity-resistance", empty, pull_down) > 1e8
    assert number("proximity-resistance", empty + 0.03, pull_down) == math.inf
    with pytest.raises(OutOfRange, match="is the wire open before the car's own pull-down"):
        number("proximity-resistance", 4.95, pull_down)


def test_a_third_of_the_power_is_one_phase_of_three():
    """Phase loss, and how it is recognised."""
    left = number("phase-loss-power", 230.0, 16.0, 2.0)
    assert number("phases-in-use", left, 230.0, 16.0) == pytest.approx(1.0)
    with pytest.raises(OutOfRange, match="`lost` = 3 is more than the 1 phases"):
        number("phase-loss-power", 230.0, 16.0, 3.0, 1.0)


def test_line_and_phase_voltage_agree():
    """Three phases by either voltage."""
    assert number("ac-power-line-voltage", 230.0 * math.sqrt(3.0), 16.0) == pytest.approx(
        number("ac-power", 230.0, 16.0, 3.0)
    )


@pytest.mark.parametrize(
    ("name", "inputs", "words"),
    [
        ("supply-loop-resistance", (221.0, 230.0, 32.0), "swap them"),
        ("supply-loop-loss", (221.0, 230.0, 32.0), "swap them"),
        ("charging-efficiency", (9500.0, 10600.0), "swap them"),
        ("rcd-trip-time", (2.0,), "type 1 or 5"),
        ("stage-time-out", ("pre-charge",), "known: protocol din, side vehicle"),
        ("stage-time-out", ("sequence",), "known: protocol any, side station"),
    ],
)
def test_impossible_pairs_are_told(name, inputs, words):
    """Inputs that are fine alone but not together."""
    with pytest.raises(OutOfRange, match=words):
        number(name, *inputs)


def test_a_supply_that_wavers_has_no_measurable_drop():
    """A little more voltage under load than without is noise, not an error."""
    assert number("supply-loop-resistance", 230.0, 230.4, 6.0) == 0.0


def test_time_outs_are_dated_sourced_and_not_from_memory():
    """Every stage's time-out is positive, sourced and looked up; no two rows say the same."""
    keys = [(one.stage, one.protocol, one.side) for one in TIME_OUTS]
    assert len(set(keys)) == len(keys)
    for one in TIME_OUTS:
        assert one.seconds > 0.0
        assert one.source
        assert one.mark is Mark.LOOKED_UP


@settings(max_examples=100, deadline=None)
@given(vehicle=st.floats(0.0, 1500.0), station=st.floats(0.0, 1500.0))
def test_the_cable_check_never_asks_more_than_the_station_gives(vehicle, station):
    """Nor, up to 500 V, more than 500 V."""
    volts = number("cable-check-voltage", vehicle, station)
    assert volts <= station
    assert vehicle > 500.0 or volts <= 500.0


@pytest.mark.parametrize(
    ("volts", "end", "proximity", "words"),
    [
        (12.0, "station", "connected", "state A: healthy"),
        (12.0, "vehicle", "connected", "no valid state"),
        (0.0, "vehicle", "empty", "state A: nothing plugged in"),
        (0.0, "vehicle", "connected", "state E: 0 V"),
        (0.0, "station", "connected", "state E: 0 V"),
        (4.5, "station", "connected", "no valid state"),
        (1.5, "vehicle", "connected", "no valid state"),
        (-5.0, "vehicle", "connected", "no valid state"),
        (-13.5, "station", "connected", "no valid state"),
    ],
)
def test_the_same_voltage_means_different_things_at_either_end(volts, end, proximity, words):
    """State A is +12 V at the station and 0 V at the car (looked up: manual of a vehicle charge controller)."""
    assert verdict("pilot-state").compute(volts, end, proximity) == words


def test_thresholds_of_the_interlock_are_never_guessed():
    """They must be given, and in order."""
    with pytest.raises(OutOfRange, match="`lower` = 8 V must be below `upper` = 2 V"):
        verdict("interlock-loop").compute(10.0, 5.0, 8.0, 2.0)
    assert verdict("interlock-loop").compute(5.0, 5.0, 2.0, 8.0) == "unclear: measure again"
