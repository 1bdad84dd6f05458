"""Two-voltage insulation method: against a nodal solve, and its dangerous trap."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from diagtree.errors import OutOfRange
from diagtree.physics import insulation
from diagtree.physics.quantity import quantity

LEAK = st.floats(1e3, 1e8)
BUS = st.floats(60.0, 1000.0)
KNOWN = st.floats(1e4, 1e6)
METER = st.one_of(st.floats(1e5, 1e9), st.just(math.inf))


def nodal(bus, negative, positive, side, known, meter):
    """Chassis potential by numpy: poles at -bus and 0 through their leaks, resistor and meter across one side."""
    to_negative, to_positive = 1 / negative, 1 / positive
    extra = 1 / known + 1 / meter
    if side == "negative":
        to_negative += extra
    else:
        to_positive += extra
    # Unknowns: potential of the chassis and of the positive pole, the negative pole being 0.
    equations = np.array([[to_negative + to_positive, -to_positive], [0.0, 1.0]])
    chassis, _ = np.linalg.solve(equations, np.array([0.0, bus]))
    return chassis if side == "negative" else bus - chassis


@settings(max_examples=200, deadline=None)
@given(bus=BUS, negative=LEAK, positive=LEAK, known=KNOWN, meter=METER, side=st.sampled_from(insulation.SIDES))
def test_readings_agree_with_a_nodal_solve(bus, negative, positive, known, meter, side):
    """Every reading of the method, on either side."""
    got = insulation.reading(bus, negative, positive, side, known, side, meter)
    assert got == pytest.approx(nodal(bus, negative, positive, side, known, meter), rel=1e-9)


def measured(bus, negative, positive, meter, known, side):
    """The three readings a technician takes, with the resistor on `side`."""
    plain = [insulation.reading(bus, negative, positive, one, math.inf, one, meter) for one in insulation.SIDES]
    return (*plain, insulation.reading(bus, negative, positive, side, known, side, meter))


@settings(max_examples=300, deadline=None)
@given(bus=BUS, negative=LEAK, positive=LEAK, meter=METER, known=KNOWN)
def test_the_method_finds_the_weaker_side_whatever_the_meter(bus, negative, positive, meter, known):
    """Resistor on the side with the higher voltage: the result is the resistance of the other, weaker side."""
    assume(abs(math.log(negative / positive)) < 10.0)
    side = "negative" if negative >= positive else "positive"
    v_negative, v_positive, fitted = measured(bus, negative, positive, meter, known, side)
    got = quantity("insulation-resistance").compute(bus, v_negative, v_positive, known, side, fitted)
    assert got == pytest.approx(min(negative, positive), rel=1e-5)


@settings(max_examples=200, deadline=None)
@given(bus=BUS, negative=LEAK, positive=LEAK, known=KNOWN)
def test_the_wrong_side_is_always_refused(bus, negative, positive, known):
    """There the formula gives the healthy side: a dangerous pass."""
    assume(max(negative, positive) / min(negative, positive) > 1.002)
    wrong = "positive" if negative >= positive else "negative"
    v_negative, v_positive, fitted = measured(bus, negative, positive, math.inf, known, wrong)
    with pytest.raises(OutOfRange, match=r"wrong side.*dangerous pass"):
        quantity("insulation-resistance").compute(bus, v_negative, v_positive, known, wrong, fitted)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"with_known": 361.0}, "`with_known` = 361 V"),
        ({"bus": 300.0}, "`bus` = 300 V is less than the 400 V"),
        ({"with_known": 0.0}, "`with_known` = 0 V"),
        ({"side": "chassis"}, "one of negative, positive"),
    ],
)
def test_impossible_readings_are_told(changed, words):
    """Each error names the reading and what to do."""
    readings = {
        "bus": 400.0,
        "negative": 40.0,
        "positive": 360.0,
        "known": 40e3,
        "side": "positive",
        "with_known": 65.4,
    }
    with pytest.raises(OutOfRange, match=words):
        quantity("insulation-resistance").compute(**{**readings, **changed})


def test_perfect_and_shorted_sides():
    """One perfect side takes the whole bus voltage; two leave nothing to measure; a dead short reads 0."""
    reading = quantity("insulation-reading").compute
    assert reading(400.0, math.inf, 1e6, "negative") == 400.0
    assert reading(400.0, math.inf, 1e6, "positive") == 0.0
    assert reading(400.0, 0.0, 1e6, "negative") == 0.0
    with pytest.raises(OutOfRange, match="the chassis floats"):
        reading(400.0, math.inf, math.inf, "negative")
    with pytest.raises(OutOfRange, match="the bus itself is shorted"):
        reading(400.0, 0.0, 0.0, "negative")


@settings(max_examples=100, deadline=None)
@given(volts=st.floats(60.0, 1500.0), ohms=st.floats(1.0, 1e6), farads=st.floats(1e-9, 1e-2))
def test_discharge_reaches_the_limit_at_the_computed_time(volts, ohms, farads):
    """The voltage at the computed time is 60 V, and 0 time is needed from 60 V."""
    seconds = quantity("discharge-time").compute(volts, ohms, farads)
    assume(seconds <= 1e7)
    assert quantity("discharge-voltage").compute(volts, ohms, farads, seconds) == pytest.approx(60.0, rel=1e-9)


def test_a_start_below_the_limit_is_told():
    """Nothing has to be waited for, and nothing is computed."""
    for name, inputs in (("discharge-time", (50.0, 1e3, 1e-3)), ("discharge-resistance", (50.0, 1e-3, 5.0))):
        with pytest.raises(OutOfRange, match="`voltage` = 50 V is"):
            quantity(name).compute(*inputs)


@settings(max_examples=100, deadline=None)
@given(volts=st.floats(1.0, 1500.0))
def test_insulation_minimum_grows_with_the_voltage(volts):
    """100 or 500 ohm per volt leak 10 or 2 mA, whatever the voltage."""
    minimum, leak = quantity("insulation-minimum").compute, quantity("insulation-leakage-current").compute
    assert leak(volts, max(minimum(volts), 1.0)) == pytest.approx(0.010)
    assert leak(volts, minimum(volts, "ac")) == pytest.approx(0.002)
    assert minimum(volts, "ac-inlet") == 1e6
