"""The control pilot against a second opinion: a nodal solve by numpy with a switched diode."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import OutOfRange
from diagtree.physics.pilot_circuit import DIODES, HALVES, PilotCircuit, parallel
from diagtree.physics.pilot_edges import edge_constant, pulse_top
from diagtree.physics.pilot_readings import leakage_resistance, series_resistance, vehicle_resistance
from diagtree.physics.quantity import quantity

OHMS = st.floats(1.0, 1e6)
SERIES = st.floats(0.0, 1e5)
STATES = st.sampled_from("BCD")


def nodal(circuit, state, half):
    """Both pins' voltages: node equations for station pin, vehicle pin and cathode, the diode switched by hand.

    Every branch has its own row; the diode is tried as a voltage source and kept if its current flows forward.
    """
    level = circuit.generator if half == "positive" else -circuit.generator
    series = circuit.series
    load = circuit.load(state)
    sign = {"normal": 1.0, "reversed": -1.0}.get(circuit.diode)
    drop = {"normal": circuit.diode_drop, "reversed": -circuit.diode_drop}.get(circuit.diode, 0.0)
    leak = 0.0 if math.isinf(circuit.leakage) else 1.0 / circuit.leakage
    # Unknowns: station pin, vehicle pin, node behind the diode, current through the diode.
    conducting = np.array(
        [
            [1 / circuit.source_resistance + leak + 1 / series, -1 / series, 0.0, 0.0],
            [-1 / series, 1 / series, 0.0, 1.0],
            [0.0, 0.0, 1 / load, -1.0],
            [0.0, 1.0, -1.0, 0.0],
        ]
    )
    solved = np.linalg.solve(conducting, np.array([level / circuit.source_resistance, 0.0, 0.0, drop]))
    forward = circuit.diode == "shorted" or (sign is not None and sign * solved[3] > 0.0)
    if forward:
        return solved[0], solved[1]
    alone = level / circuit.source_resistance / (1 / circuit.source_resistance + leak)
    return alone, alone


@settings(max_examples=300, deadline=None)
@given(
    state=STATES, series=st.floats(1e-3, 1e5), leakage=st.one_of(OHMS, st.just(math.inf)),
    diode=st.sampled_from(DIODES), half=st.sampled_from(HALVES), generator=st.floats(11.0, 13.0),
    source=st.floats(900.0, 1100.0), drop=st.floats(0.0, 1.0),
)  # fmt: skip
def test_agrees_with_a_nodal_solve(state, series, leakage, diode, half, generator, source, drop):
    """Both ends, both halves, every diode, any leakage and series resistance: the same voltages."""
    circuit = PilotCircuit(series, leakage, diode, generator, source, drop)
    expected = nodal(circuit, state, half)
    got = [circuit.voltage(state, end, half) for end in ("station", "vehicle")]
    assert got == pytest.approx(expected, abs=2e-6)


@settings(max_examples=200, deadline=None)
@given(state=STATES, one=SERIES, other=SERIES)
def test_series_resistance_lifts_the_station_and_lowers_the_vehicle(state, one, other):
    """More series resistance: never lower at the station's pin, never higher at the vehicle's."""
    low, high = (PilotCircuit(series=value) for value in sorted((one, other)))
    assert low.voltage(state) <= high.voltage(state) + 1e-12
    assert low.voltage(state, "vehicle") >= high.voltage(state, "vehicle") - 1e-12


@settings(max_examples=200, deadline=None)
@given(state=st.sampled_from("ABCD"), one=OHMS, other=OHMS, half=st.sampled_from(HALVES))
def test_leakage_draws_every_level_towards_zero(state, one, other, half):
    """Less leakage resistance: never farther from 0."""
    worse, better = (PilotCircuit(leakage=value) for value in sorted((one, other)))
    assert abs(worse.voltage(state, half=half)) <= abs(better.voltage(state, half=half)) + 1e-12


@pytest.mark.parametrize("state", "BCD")
def test_limits_at_zero_and_infinity(state):
    """An open loop is the empty station; a dead short is 0 V; neither is an error."""
    assert PilotCircuit(series=1e12).voltage(state) == pytest.approx(12.0, abs=1e-6)
    assert PilotCircuit(series=math.inf).voltage(state) == 12.0
    assert PilotCircuit(series=1e12).voltage(state, "vehicle") == pytest.approx(0.7, abs=1e-3)
    assert PilotCircuit(leakage=0.0).voltage(state) == 0.0
    assert PilotCircuit(leakage=1e15).voltage(state) == pytest.approx(PilotCircuit().voltage(state), abs=1e-9)


def test_parallel_resistors():
    """Zero wins, infinity does not count, nothing but infinity is open."""
    assert parallel(0.0, 5.0) == 0.0
    assert parallel(math.inf, 5.0) == 5.0
    assert parallel(math.inf, math.inf) == math.inf
    assert parallel(2740.0, 1300.0) == pytest.approx(2740.0 * 1300.0 / 4040.0)


def test_states_without_a_vehicle_and_the_fixed_ones():
    """A is 0 V at an empty inlet and +12 V at the station; E is 0 V, F the negative level at both ends."""
    healthy = PilotCircuit()
    assert (healthy.voltage("A"), healthy.voltage("A", "vehicle")) == (12.0, 0.0)
    assert {healthy.voltage("E", end, half) for end in ("station", "vehicle") for half in HALVES} == {0.0}
    assert {healthy.voltage("F", end, half) for end in ("station", "vehicle") for half in HALVES} == {-12.0}


@settings(max_examples=300, deadline=None)
@given(
    state=STATES,
    end=st.sampled_from(("station", "vehicle")),
    series=st.floats(0.1, 1e5),
    leakage=st.one_of(st.floats(500.0, 1e6), st.just(math.inf)),
    diode=st.sampled_from(("normal", "shorted")),
)
def test_series_resistance_is_found_again(state, end, series, leakage, diode):
    """Forward, then backward, at either end, with a known leakage."""
    trusted = PilotCircuit(leakage=leakage, diode=diode)
    volts = PilotCircuit(series, leakage, diode).voltage(state, end)
    assert series_resistance(volts, state, end, trusted) == pytest.approx(series, rel=1e-6, abs=1e-6)


@settings(max_examples=300, deadline=None)
@given(state=st.sampled_from("ABCD"), half=st.sampled_from(HALVES), leakage=st.floats(100.0, 1e6))
def test_leakage_is_found_again(state, half, leakage):
    """Forward, then backward, on either half and in every state."""
    volts = PilotCircuit(leakage=leakage).voltage(state, half=half)
    assert leakage_resistance(volts, state, PilotCircuit()) == pytest.approx(leakage, rel=1e-6)


def test_tolerance_of_healthy_parts_is_no_defect():
    """A reading inside the healthy band, on the wrong side of the nominal one, means 0 series and no leakage."""
    healthy = PilotCircuit()
    assert series_resistance(5.5, "C", "station", healthy) == 0.0
    assert series_resistance(6.4, "C", "vehicle", healthy) == 0.0
    assert leakage_resistance(-12.4, "A", healthy) == math.inf
    assert leakage_resistance(9.5, "B", healthy) == math.inf


@pytest.mark.parametrize(
    ("volts", "end"), [(5.0, "station"), (7.0, "vehicle"), (0.6, "vehicle"), (12.5, "station"), (0.3, "station")]
)
def test_readings_that_no_series_resistance_explains_are_refused(volts, end):
    """The error says what else to look for."""
    with pytest.raises(OutOfRange, match=r"leakage|open|tells no resistance"):
        series_resistance(volts, "C", end, PilotCircuit())


def test_a_level_beyond_the_generator_is_no_leakage():
    """Leakage only draws a level towards 0."""
    with pytest.raises(OutOfRange, match="`generator`"):
        leakage_resistance(-12.7, "A", PilotCircuit())
    with pytest.raises(OutOfRange, match="tells no resistance"):
        vehicle_resistance(12.3, PilotCircuit())
    assert vehicle_resistance(12.0, PilotCircuit()) == math.inf


def simulated_edge(capacitance, state, start, stop, level):
    """Time between two levels by small steps: a slow, obvious twin of the closed form."""
    circuit = PilotCircuit()
    load = circuit.load(state)
    volts, time, step = -level, 0.0, 1e-9
    begun = None
    while time < 1e-4:
        current = (level - volts) / circuit.source_resistance
        current -= max(volts - circuit.diode_drop, 0.0) / load
        volts += current / capacitance * step
        time += step
        if begun is None and (volts - start) * level > 0.0:
            begun = time
        if (volts - stop) * level > 0.0:
            return time - begun
    raise AssertionError("the edge never ended")


@pytest.mark.parametrize(("state", "low", "high"), [("B", -9.9, 6.9), ("C", -10.2, 4.2)])
def test_edges_agree_with_a_stepwise_simulation(state, low, high):
    """Rise time by closed form and by Euler steps of 1 ns."""
    stepped = simulated_edge(2e-9, state, low, high, 12.0)
    assert edge_constant("rise", state) * 2e-9 == pytest.approx(stepped, rel=2e-3)


@settings(max_examples=100, deadline=None)
@given(state=STATES, one=st.floats(0.0, 1e-7), other=st.floats(0.0, 1e-7), duty=st.floats(1.0, 90.0))
def test_more_capacitance_never_raises_the_pulse(state, one, other, duty):
    """And without capacitance the pulse reaches the steady level."""
    tops = [pulse_top(value, duty, state, 1000.0, PilotCircuit()) for value in sorted((one, other))]
    assert tops[0] >= tops[1] - 1e-9
    assert pulse_top(0.0, duty, state, 1000.0, PilotCircuit()) == PilotCircuit().voltage(state)


def test_the_average_lies_between_both_levels():
    """At 0 and 100 per cent it is one of them."""
    average = quantity("pilot-average").compute
    for state, diode in itertools.product("ABCD", DIODES):
        circuit = PilotCircuit(diode=diode)
        low, high = circuit.voltage(state, half="negative"), circuit.voltage(state)
        assert average(0.0, state, diode=diode) == pytest.approx(low)
        assert average(100.0, state, diode=diode) == pytest.approx(high)
        assert low <= average(37.0, state, diode=diode) <= high


@settings(max_examples=200, deadline=None)
@given(duty=st.floats(8.0, 97.0))
def test_the_current_rises_with_the_duty_cycle(duty):
    """6 to 80 A, never falling, and never a current outside."""
    current = quantity("pilot-current").compute
    assert 6.0 <= current(duty) <= 80.0
    assert current(min(duty + 0.1, 97.0)) >= current(duty) - 1e-9


@pytest.mark.parametrize("duty", [0.0, 2.99, 3.0, 5.0, 7.0, 7.01, 7.5, 7.99, 97.01, 100.0])
def test_duty_cycles_without_a_current_are_refused(duty):
    """Digital communication is told from no charging."""
    word = "digital communication" if 3.0 <= duty <= 7.0 else "does not allow charging"
    with pytest.raises(OutOfRange, match=f"`duty` = .* percent .*{word}.*type 8 to 97 percent"):
        quantity("pilot-current").compute(duty)


@pytest.mark.parametrize("amperes", [51.01, 52.0, 52.49])
def test_currents_that_no_duty_cycle_says_are_refused(amperes):
    """The upper rule would give a duty cycle which the car reads by the lower one."""
    with pytest.raises(OutOfRange, match=r"type 6 to 51 A or 52.5 to 80 A"):
        quantity("pilot-duty").compute(amperes)
