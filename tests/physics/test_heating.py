"""Contact heating and its forecast."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import OutOfRange
from diagtree.physics import heating
from diagtree.physics.quantity import quantity

RISE = st.floats(5.0, 150.0)
TAU = st.floats(60.0, 3000.0)


@settings(max_examples=200, deadline=None)
@given(rise=RISE, tau=TAU, one=st.floats(0.0, 1e5), other=st.floats(0.0, 1e5))
def test_a_contact_warms_from_the_surroundings_towards_its_end(rise, tau, one, other):
    """It starts at the surroundings, never cools and never passes its end."""
    early, late = (heating.temperature(20.0, rise, time, tau) for time in sorted((one, other)))
    assert 20.0 <= early <= late <= 20.0 + rise
    assert heating.temperature(20.0, rise, 0.0, tau) == 20.0
    assert heating.temperature(20.0, rise, 1e9, tau) == 20.0 + rise


@settings(max_examples=200, deadline=None)
@given(rise=RISE, tau=TAU, share=st.floats(0.001, 0.999))
def test_time_to_a_temperature_and_back(rise, tau, share):
    """The time to a limit below the end gives that limit again."""
    limit = 20.0 + share * rise
    time = heating.time_to(20.0, rise, limit, tau)
    assert heating.temperature(20.0, rise, time, tau) == pytest.approx(limit, abs=1e-9)


def test_limits_never_and_already_reached():
    """A limit at or above the end takes for ever; one below the surroundings no time."""
    assert heating.time_to(20.0, 50.0, 70.0, 600.0) == math.inf
    assert heating.time_to(20.0, 0.0, 30.0, 600.0) == math.inf
    assert heating.time_to(20.0, 50.0, 15.0, 600.0) == 0.0


def test_agrees_with_a_numerical_solution_of_the_heat_balance():
    """scipy integrates C dT/dt = P - (T - Ta)/Rth to the same temperature."""
    integrate = pytest.importorskip("scipy.integrate")
    power, thermal, tau = 5.12, 10.0, 600.0
    solved = integrate.solve_ivp(
        lambda _, celsius: (power * thermal - (celsius - 25.0)) / tau, (0.0, 1800.0), [25.0], rtol=1e-9, atol=1e-9
    )
    assert quantity("contact-temperature").compute(25.0, 32.0, 0.005, thermal, tau, 1800.0) == pytest.approx(
        solved.y[0, -1], abs=1e-5
    )


def three(rise, tau, start, interval):
    return [heating.temperature(20.0, rise, start + place * interval, tau) for place in range(3)]


@settings(max_examples=200, deadline=None)
@given(rise=RISE, tau=TAU, start=st.floats(0.0, 1.0), interval=st.floats(0.1, 1.5))
def test_the_forecast_of_perfect_readings_is_the_end(rise, tau, start, interval):
    """Whatever the start and the interval, in time constants."""
    got = heating.forecast(*three(rise, tau, start * tau, interval * tau), interval * tau)
    assert got.end == pytest.approx(20.0 + rise, abs=1e-6)
    assert got.time_constant == pytest.approx(tau, rel=1e-6)
    assert got.end_uncertainty == 0.0


@settings(max_examples=100, deadline=None)
@given(rise=RISE, tau=TAU, interval=st.floats(0.3, 1.5))
def test_uncertainty_is_first_order_propagation(rise, tau, interval):
    """Against numerical derivatives by each reading."""
    readings, step, doubt = three(rise, tau, 0.0, interval * tau), 1e-5, 1e-4
    ends, taus = [], []
    for place in range(3):
        moved = [
            heating.forecast(
                *(value + sign * step * (place == at) for at, value in enumerate(readings)), interval * tau
            )
            for sign in (1.0, -1.0)
        ]
        ends.append((moved[0].end - moved[1].end) / (2 * step))
        taus.append((moved[0].time_constant - moved[1].time_constant) / (2 * step))
    got = heating.forecast(*readings, interval * tau, doubt)
    assert got.end_uncertainty == pytest.approx(doubt * math.hypot(*ends), rel=1e-3)
    assert got.time_constant_uncertainty == pytest.approx(doubt * math.hypot(*taus), rel=1e-3)


@pytest.mark.parametrize(("doubt", "interval"), [(0.1, 300.0), (0.5, 450.0), (1.0, 600.0)])
def test_the_stated_interval_contains_the_true_end(doubt, interval):
    """Over 4,000 noisy triples the end lies inside end +/- U in about 95 of 100 of those that are not refused."""
    random = np.random.default_rng(20240)
    inside = told = 0
    for _ in range(4000):
        readings = three(51.2, 600.0, 300.0, interval) + random.normal(0.0, doubt / 2.0, 3)
        try:
            got = heating.forecast(*map(float, readings), interval, doubt)
        except OutOfRange:
            continue
        told += 1
        inside += abs(got.end - 71.2) <= got.end_uncertainty
    assert told > 2000
    assert 0.93 <= inside / told <= 0.98


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        ((20.0, 25.0, 30.0), "do not level off"),
        ((20.0, 25.0, 31.0), "do not level off"),
        ((20.0, 20.0, 20.0), "do not level off"),
        ((20.0, 25.0, 24.0), "do not level off"),
        ((20.0, 25.0, 29.9), "bend by 0.1 K"),
    ],
)
def test_readings_without_a_forecast_are_refused(readings, words):
    """Straight, speeding up, standing still, turning back, or bending by less than their doubt."""
    with pytest.raises(OutOfRange, match=f"{words}.*[Tt]ake readings farther apart"):
        heating.forecast(*readings, 300.0, 0.1)


@settings(max_examples=100, deadline=None)
@given(rise=st.floats(1.0, 200.0), current=st.floats(1.0, 500.0))
def test_half_the_current_a_quarter_of_the_rise(rise, current):
    """Heat goes with the square of the current; none without one."""
    at = quantity("contact-rise-at-current").compute
    assert at(rise, current, current / 2.0) == pytest.approx(rise / 4.0)
    assert at(rise, current, 0.0) == 0.0


def test_derating_ends_are_level_and_the_order_is_checked():
    """Outside the line the current stays; a line drawn backwards is told."""
    current = quantity("derating-current").compute
    assert current(-20.0, 25.0, 32.0, 70.0, 10.0) == 32.0
    assert current(95.0, 25.0, 32.0, 70.0, 10.0) == 10.0
    with pytest.raises(OutOfRange, match="`end` = 25 must be above `start` = 70"):
        current(50.0, 70.0, 32.0, 25.0, 10.0)
