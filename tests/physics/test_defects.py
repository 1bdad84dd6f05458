"""Fault finding on circuits: what must hold for every circuit, defect and set of readings."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.stats import chi2

from diagtree.errors import OutOfRange, WrongUse
from diagtree.physics.defects.defect import HEALTHY, defects
from diagtree.physics.defects.finding import CANNOT_TELL, NAMED, NONE, find
from diagtree.physics.defects.misfit import chance_of_more
from diagtree.physics.defects.pilot_loop import PilotLoop
from diagtree.physics.defects.proximity_loop import CODED, ProximityLoop, coded_loop, unbounded
from diagtree.physics.defects.spot import PILOT, PROXIMITY, SPOTS, Spot

from ..oracles.signal_circuits import Pilot, Proximity

LOOPS = [(PILOT, PilotLoop()), (PROXIMITY, ProximityLoop())]
CODED_LOOPS = [(PROXIMITY, coded_loop(resistor)) for resistor in CODED]
U = 0.03
"""Standard uncertainty of a level read with a handheld multimeter. [V]"""


def spots_of(circuit, loop):
    if circuit == PROXIMITY and loop.button is None:
        return [spot for spot in SPOTS[circuit] if spot.state != "unlatched"]
    return list(SPOTS[circuit])


def uncertainty(spot, scale=1.0):
    return (U if spot.unit == "V" else 0.002) * scale


def read(loop, spots, scale=1.0):
    """Read a loop without any error."""
    return {spot: (loop.read(spot), uncertainty(spot, scale)) for spot in spots}


def misfits(found):
    return {one.defect: one.misfit for one in found.explanations}


@st.composite
def spoiled(draw):
    """A circuit with one defect: its defect, its value and its loops, healthy and spoiled."""
    circuit, loop = draw(st.sampled_from(LOOPS + CODED_LOOPS))
    defect = draw(st.sampled_from(defects(circuit)))
    value = 0.0
    if defect.span is not None:
        span = defect.span(loop)
        value = draw(st.floats(span.low, min(span.high, 1e6)))
    return circuit, loop, defect, value, defect.change(loop, value)


@st.composite
def noisy(draw):
    """A circuit with a defect, and some of its levels read with errors of a few uncertainties."""
    circuit, loop, _, _, wrong = draw(spoiled())
    spots = draw(st.lists(st.sampled_from(spots_of(circuit, loop)), min_size=1, max_size=6, unique=True))
    found = {}
    for spot in spots:
        error = draw(st.floats(-3.0, 3.0)) * uncertainty(spot)
        found[spot] = (wrong.read(spot) + error, uncertainty(spot))
    return loop, found


@pytest.mark.parametrize(("circuit", "loop"), LOOPS + CODED_LOOPS)
def test_no_defect_is_told_as_none(circuit, loop):
    """A healthy circuit, read at all usual places, needs no defect."""
    found = find(loop, read(loop, spots_of(circuit, loop)))
    assert found.verdict == NONE
    assert found.best is not None
    assert (found.best.defect, found.best.misfit) == (HEALTHY, pytest.approx(0.0, abs=1e-9))


@settings(max_examples=40, deadline=None)
@given(shifts=st.lists(st.floats(-1.0, 1.0), min_size=7, max_size=7))
def test_parts_within_their_tolerances_are_no_defect(shifts):
    """Whatever healthy parts are built in, the pilot's levels are explained by "none"."""
    loop = PilotLoop()
    parts = {name: getattr(loop, name) + shift * u for (name, u), shift in zip(loop.parts(), shifts, strict=True)}
    found = find(loop, read(replace(loop, **parts), SPOTS[PILOT]))
    assert next(one for one in found.explanations if one.defect == HEALTHY).fits
    assert found.verdict != NAMED or found.best.misfit + 4.0 < misfits(found)[HEALTHY]


@settings(max_examples=80, deadline=None)
@given(spoiled())
def test_the_defect_that_was_built_in_fits_exactly_and_its_value_is_found(case):
    """Without errors the true explanation has no misfit, and the interval holds the true value."""
    circuit, loop, defect, value, wrong = case
    assume(wrong != loop or defect.id == HEALTHY or defect.span is not None)
    found = find(loop, read(wrong, spots_of(circuit, loop)))
    true = next(one for one in found.explanations if one.defect == defect.kind)
    assert true.misfit < 0.01
    if defect.span is not None:
        assert true.low <= value * (1 + 1e-3) + 0.1
        assert value <= true.high * (1 + 1e-3) + 0.1
    if found.verdict == NAMED:
        assert found.best.defect == defect.kind


@settings(max_examples=80, deadline=None)
@given(noisy(), st.data())
def test_one_more_reading_never_makes_a_misfit_smaller(case, data):
    """What is explained by all readings is explained by fewer of them."""
    loop, readings = case
    assume(len(readings) > 1)
    left_out = data.draw(st.sampled_from(sorted(readings, key=repr)))
    fewer = misfits(find(loop, {spot: pair for spot, pair in readings.items() if spot is not left_out}))
    for defect, misfit in misfits(find(loop, readings)).items():
        assert misfit >= fewer[defect] * (1.0 - 1e-3) - 1e-3, defect


@settings(max_examples=40, deadline=None)
@given(noisy(), st.floats(1.0, 5.0))
def test_a_worse_meter_never_makes_a_misfit_larger(case, factor):
    """Uncertainty only ever excuses."""
    loop, readings = case
    before = misfits(find(loop, readings))
    worse = {spot: (number, factor * u) for spot, (number, u) in readings.items()}
    for defect, misfit in misfits(find(loop, worse)).items():
        assert misfit <= before[defect] * (1.0 + 1e-3) + 1e-3, defect


@settings(max_examples=40, deadline=None)
@given(noisy(), st.randoms(use_true_random=False))
def test_the_order_of_the_readings_does_not_matter(case, dice):
    """Same readings, same finding."""
    loop, readings = case
    shuffled = list(readings.items())
    dice.shuffle(shuffled)
    one, other = find(loop, readings), find(loop, dict(shuffled))
    assert misfits(one) == pytest.approx(misfits(other), rel=1e-6, abs=1e-6)
    assert one.verdict == other.verdict


@settings(max_examples=40, deadline=None)
@given(noisy())
def test_the_verdict_follows_its_rule(case):
    """Ranks ascend; a defect is named only where it fits and the next best misfits by more than 4 more."""
    loop, readings = case
    found = find(loop, readings)
    values = [one.misfit for one in found.explanations]
    assert all(one <= other + 0.01 for one, other in itertools.pairwise(values))
    assert [one.rank for one in found.explanations] == list(range(1, len(values) + 1))
    assert (found.best is None) == (found.verdict == CANNOT_TELL)
    if found.verdict == NAMED:
        others = [one.misfit for one in found.explanations if one is not found.best]
        assert found.best.fits
        assert min(others) > found.best.misfit + 4.0 - 0.01
    for one in found.explanations:
        if one.low is not None:
            assert one.low <= one.value <= one.high


@settings(max_examples=80, deadline=None)
@given(st.floats(0.0, 5e4), st.integers(1, 12))
def test_the_tail_of_chi_square_agrees_with_scipy(misfit, freedom):
    """A second opinion."""
    assert chance_of_more(misfit, freedom) == pytest.approx(chi2.sf(misfit, freedom), rel=1e-9, abs=1e-300)


@settings(max_examples=200, deadline=None)
@given(
    spot=st.sampled_from([*SPOTS[PILOT], Spot(PILOT, "V", "vehicle", "D")]),
    series=st.one_of(st.just(0.0), st.floats(0.0, 1e4)),
    leakage=st.one_of(st.floats(1.0, 1e6), st.just(math.inf)),
    diode=st.sampled_from(("normal", "shorted", "reversed", "open")),
    switch=st.sampled_from(("works", "open", "closed")),
    broken=st.booleans(),
    in_car=st.booleans(),
)
def test_the_pilot_agrees_with_a_nodal_solve(spot, series, leakage, diode, switch, broken, in_car):
    """Every level, also of several defects at once."""
    assume(not in_car or (series == 0.0 and not broken))  # one defect: the leakage is at both pins alike
    loop = PilotLoop(series=series, leakage=leakage, in_car=in_car, diode=diode, switch=switch, broken=broken)
    solved = Pilot(series=series, leakage=leakage, in_car=in_car, diode=diode, switch=switch, broken=broken)
    level = 12.0 if spot.half == "positive" else -12.0
    assert loop.read(spot) == pytest.approx(solved.volts(spot.end, spot.state, level), abs=2e-4)


@settings(max_examples=200, deadline=None)
@given(
    state=st.sampled_from(("empty", "latched", "unlatched")),
    contact=st.floats(0.0, 1e4),
    leakage=st.one_of(st.floats(1.0, 1e6), st.just(math.inf)),
    resistor=st.floats(1.0, 1e4),
    switch=st.sampled_from(("works", "open", "closed")),
)
def test_the_proximity_contact_agrees_with_a_nodal_solve(state, contact, leakage, resistor, switch):
    """Every level, and the plug by itself."""
    loop = ProximityLoop(contact=contact, leakage=leakage, resistor=resistor, switch=switch)
    solved = Proximity(contact=contact, leakage=leakage, resistor=resistor, switch=switch)
    spot = Spot(PROXIMITY, "V", "vehicle", state)
    assert loop.read(spot) == pytest.approx(solved.volts(state), abs=2e-4)
    assert unbounded(loop.read(replace(spot, unit="ohm"))) == pytest.approx(
        math.inf if state == "empty" else solved.plug(state)
    )


def test_a_single_reading_of_state_b_tells_little():
    """B is right: whether S2 closes and what the diode does is not told; the reading that would tell is named."""
    found = find(PilotLoop(), read(PilotLoop(), [Spot(PILOT, "V", "station", "B")]))
    assert found.verdict == CANNOT_TELL
    assert {one.defect for one in found.rivals} == {"none", "switch-open", "diode-shorted"}
    assert found.next is not None
    assert found.next.state == "C"


def test_a_leakage_in_the_car_leaves_the_unplugged_station_alone():
    """Wet inlet: A reads 12 V, B and C are drawn down; it is the same defect, and where it is is said."""
    found = find(PilotLoop(), read(PilotLoop(leakage=4.7e3, in_car=True), SPOTS[PILOT]))
    assert found.best is not None
    assert (found.best.defect, found.best.name) == ("leakage", "leakage from pilot to earth in the car")
    assert found.best.low < 4.7e3 < found.best.high
    assert [one.defect for one in found.explanations].count("leakage") == 1


def test_nothing_known_fits_readings_of_two_defects():
    """Shorted diode and series resistance together: no single defect fits, and none is named."""
    two = PilotLoop(diode="shorted", series=400.0)
    found = find(PilotLoop(), read(two, SPOTS[PILOT]))
    assert (found.verdict, found.rivals) == (CANNOT_TELL, ())
    assert "no single defect" in found.reason


def test_an_average_excuses_what_meters_do_to_a_wave():
    """The same gap weighs less at an average than at a level."""
    level, average = Spot(PILOT, "V", "station", "C"), Spot(PILOT, "V", "station", "C", duty=100.0)
    one = find(PilotLoop(), {level: (7.3, U)})
    other = find(PilotLoop(), {average: (7.3, U)})
    assert misfits(other)[HEALTHY] < misfits(one)[HEALTHY]


@pytest.mark.parametrize(
    ("readings", "error"),
    [
        ({}, WrongUse),
        ({SPOTS[PILOT][0]: (12.0, U), SPOTS[PROXIMITY][0]: (4.4, U)}, WrongUse),
        ({SPOTS[PILOT][0]: (math.nan, U)}, OutOfRange),
        ({SPOTS[PILOT][0]: (math.inf, U)}, OutOfRange),
        ({SPOTS[PILOT][0]: (12.0, -0.1)}, OutOfRange),
        ({SPOTS[PILOT][0]: (12.0, math.nan)}, OutOfRange),
    ],
)
def test_what_is_no_reading_is_refused(readings, error):
    """One word, no traceback of numpy's."""
    with pytest.raises(error):
        find(PilotLoop(), readings)


def test_readings_of_an_exact_meter_are_no_better_than_the_model():
    """Uncertainty 0 counts as 0.01 V: no division by zero, no false certainty."""
    found = find(PilotLoop(), {spot: (PilotLoop().read(spot), 0.0) for spot in SPOTS[PILOT]})
    assert found.verdict == NONE
