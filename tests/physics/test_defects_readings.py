"""Readings by the names of observables: what they mean to fault finding, and what is passed over or refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagtree.errors import OutOfRange, WrongUse
from diagtree.physics.defects.defect import HEALTHY
from diagtree.physics.defects.proximity_loop import bounded, coded_loop, unbounded
from diagtree.physics.defects.readings import as_level, explanations, proximity_loops
from diagtree.physics.defects.spelled import ohms
from diagtree.physics.defects.spot import CIRCUITS, PROXIMITY, SPOTS, spot_named

U = 0.03
"""Standard uncertainty of a level read with a handheld multimeter. [V]"""


def misfits(found):
    return {one.defect: one.misfit for one in found.explanations}


@pytest.mark.parametrize("name", [spot.name for circuit in CIRCUITS for spot in SPOTS[circuit]])
def test_a_spot_is_found_by_its_name(name):
    """Names go there and back."""
    assert spot_named(name).name == name


@pytest.mark.parametrize(
    "name",
    [
        "resistance(inlet.ac_sensor)",
        "voltage(pilot, vehicle end, state A)",
        "voltage(pilot, station end, state E)",
        "voltage(pilot, station end, state F)",
        "voltage(pilot, state C)",
        "voltage(proximity, vehicle end)",
        "resistance(pilot, plug)",
        "voltage(l1, l2)",
        "",
    ],
)
def test_other_readings_are_passed_over(name):
    """What tells nothing of these circuits is no spot, and no reason for an error."""
    assert spot_named(name) is None
    assert explanations({name: (5.0, 0.1)}) == ()


def test_every_way_to_say_a_spot():
    """Averages, halves and the plug's states by their other names."""
    assert spot_named("voltage(pilot, station end, state B, positive half)").name == (
        "voltage(pilot, station end, state B)"
    )
    assert spot_named("voltage(pilot, vehicle end, state C, average at 26.7 percent)").duty == 26.7
    assert spot_named("voltage(proximity, vehicle end, button pressed)").state == "unlatched"
    assert spot_named("resistance(proximity, plug)").state == "latched"


@pytest.mark.parametrize("ohm", [-1.0, math.nan])
def test_resistances_that_are_none_are_refused(ohm):
    """A plug has 0 ohm or more; OL is infinity."""
    spot = SPOTS[PROXIMITY][-2]
    with pytest.raises(OutOfRange, match="no resistance"):
        as_level(spot, ohm, 1.0)
    assert as_level(spot, math.inf, 5.0) == (1.0, 0.0)
    assert as_level(spot, 330.0, 1.0) == (0.5, pytest.approx(1.0 / 1320.0))


def test_the_plug_of_a_type_2_car_is_the_coding_that_fits_best():
    """The profile gives the car's circuit; the owner's cable is not known."""
    inlet = {"type": "type-2-combined", "proximity": {"pull_up": 330.0, "pull_down": 4700.0, "supply": 5.0}}
    (found,) = explanations(
        {"voltage(proximity, vehicle end, latched)": (1.945, U), "voltage(proximity, vehicle end, empty)": (4.672, U)},
        inlet,
    )
    assert misfits(found)[HEALTHY] < 0.1


@pytest.mark.parametrize(
    "inlet",
    [
        {},
        {"type": "type-2"},
        {"type": "type-1", "proximity": {"pull_down": "unknown"}},
        {"proximity": {"pull_down": 1.0}},
    ],
)
def test_an_unknown_proximity_circuit_is_not_guessed(inlet):
    """A maker's value is never invented."""
    assert proximity_loops(inlet) == ()
    assert explanations({"voltage(proximity, vehicle end, latched)": (1.5, U)}, inlet) == ()


def test_no_plug_is_coded_with_other_ohms():
    """The four codings are named."""
    with pytest.raises(WrongUse, match="type 100"):
        coded_loop(300.0)


@given(st.floats(0.0, 1e7))
def test_a_bounded_resistance_comes_back(ohm):
    """0 to infinity on 0 to 1."""
    assert unbounded(bounded(ohm)) == pytest.approx(ohm, rel=1e-6, abs=1e-9)
    assert unbounded(bounded(math.inf)) == math.inf


def test_resistances_in_words():
    """Three digits, and words at both ends."""
    assert [ohms(value) for value in (None, 0.0, 300.0, 10432.0, math.inf)] == [
        "",
        "0 ohm",
        "300 ohm",
        "10.4 kohm",
        "open",
    ]
