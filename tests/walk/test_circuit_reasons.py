"""`why` says which single defect explains what was read of the pilot and of the proximity contact."""

from __future__ import annotations

import re

import pytest

from diagtree.knowledge.library import read_library
from diagtree.walk.context import Walk
from diagtree.walk.prompts import Kind
from diagtree.walk.why import why
from tests.walk.bay import Bay

TEXTS = {
    "workshop.yaml": """\
workshop: Harbour Lane Garage
rate: 60
meters: {multimeter: {volt: {percent: 0.5, counts: 2}, ohm: {percent: 1, counts: 3}}}
""",
    "vehicles/petrel-9.yaml": """\
vehicle: petrel-9
name: Petrel for tests
inlet: {type: type-1, proximity: {pull_up: 330, pull_down: 2700, supply: 5}}
""",
    "catalogue/all.yaml": """\
tests:
  pilot-levels:
    ask: Pilot at both ends while the car asks for state C
    place: bay
    minutes: 5
    needs: {power: live, tools: [multimeter]}
    reads:
      station: {unit: volt, of: 'voltage(pilot, station end, state C)'}
      car: {unit: mV, of: 'voltage(pilot, vehicle end, state C)'}
      mains: {unit: volt, of: 'voltage(l1, n)'}
    judge: station
    outcomes: {low: below 5.4, normal: below 6.5, high: otherwise}
    healthy: normal
    mistake: 2
    source: SAE J1772
  contact-levels:
    ask: Proximity contact latched and empty
    place: bay
    minutes: 5
    needs: {power: live, tools: [multimeter]}
    reads:
      latched: {unit: volt, of: 'voltage(proximity, vehicle end, latched)'}
      empty: {unit: volt, of: 'voltage(proximity, vehicle end, empty)'}
      plug: {unit: ohm, of: 'resistance(proximity, plug)'}
    judge: latched
    outcomes: {normal: below 2, high: otherwise}
    healthy: normal
    mistake: 2
    source: manual of a charge controller
causes:
  dirty-contact: {name: dirty contact, where: inlet, shows: {pilot-levels: {high: 95, normal: 5}},
    correction: {do: Clean it., minutes: 30, needs: {power: live}}, proof: {charge: ac, minutes: 30}}
  latch: {name: latch, where: inlet, shows: {contact-levels: {high: 95, normal: 5}},
    correction: {do: Replace it., minutes: 30, needs: {power: live}}, proof: {charge: ac, minutes: 30}}
""",
    "signals.yaml": """\
diagtree: 1
tree: signals
title: The station sees no car
revision: 1
causes: {dirty-contact: 60, latch: 40}
start: pilot-levels
steps:
  pilot-levels: {then: {low: contact-levels, normal: contact-levels, high: contact-levels}}
  contact-levels: {then: {normal: {conclude: dirty-contact}, high: {conclude: latch}}}
""",
}


def bay(**changed: str) -> Bay:
    return Bay(Walk.begin(read_library({**TEXTS, **changed}), "signals", "petrel-9"))


def reasons(one: Bay) -> str:
    return "\n".join(why(one.walk, one.state))


def test_nothing_is_said_before_the_circuit_was_read():
    """And no number is given away that is still to be measured."""
    one = bay()
    one.until("pilot-levels")
    assert "control pilot" not in reasons(one)
    assert "only single defects" not in reasons(one).lower()


def test_the_answered_tests_readings_are_explained():
    """300 ohm in the loop: the station reads 6.82 V, the car 5.27 V (typed in millivolts)."""
    one = bay()
    one.until("pilot-levels")
    one.type(station="6.82", car="5270", mains="231")
    one.until("contact-levels")
    said = reasons(one)
    found = re.search(
        r"Of the control pilot: series resistance in the loop of pilot and protective earth: (\d+) ohm", said
    )
    assert found is not None
    assert float(found[1]) == pytest.approx(300.0, abs=5.0)
    assert "no proof that the circuit, or the car, is safe" in said
    assert "proximity contact:" not in said


def test_a_close_reading_that_is_not_judged_yet_counts():
    """6.49 V is close to the limit of 6.5 V: the walk asks again, and `why` explains what was typed."""
    one = bay()
    one.until("pilot-levels")
    one.type(station="6.49", car="5720", mains="231")
    assert one.prompt.kind is Kind.CLOSE_READING
    assert "Of the control pilot: series resistance" in reasons(one)


def test_what_cannot_be_told_apart_is_said_with_the_reading_that_would():
    """480 ohm where 150 were expected: the latch, or another resistor; pressing the button tells."""
    one = bay()
    one.until("pilot-levels")
    one.type(station="6.00", car="6000", mains="231")
    one.until("contact-levels")
    one.type(latched="2.76", empty="4.45", plug="480")
    said = reasons(one)
    assert "Of the proximity contact: cannot tell" in said
    assert "latch button stuck as if pressed, or wrong resistor in the plug" in said
    assert "What would tell them apart best: voltage(proximity, vehicle end, unlatched)" in said


def test_an_open_plug_is_a_reading_and_an_open_voltage_is_none():
    """OL in ohm counts; OL in volts says that the meter stood in the wrong range."""
    one = bay()
    one.until("pilot-levels")
    one.type(station="OL", car="OL", mains="231")
    one.until("contact-levels")
    one.type(latched="4.45", empty="4.45", plug="OL")
    said = reasons(one)
    assert "control pilot" not in said
    assert "Of the proximity contact: resistor in the plug open" in said


def test_a_proximity_circuit_that_the_profile_does_not_know_is_left_out():
    """A maker's value is not guessed."""
    unknown = TEXTS["vehicles/petrel-9.yaml"].replace("pull_down: 2700", "pull_down: unknown")
    one = bay(**{"vehicles/petrel-9.yaml": unknown})
    one.until("pilot-levels")
    one.type(station="6.00", car="6000", mains="231")
    one.until("contact-levels")
    one.type(latched="2.76", empty="4.45", plug="480")
    assert "proximity contact:" not in reasons(one)


@pytest.mark.parametrize("typed", ["-5", "-0.1"])
def test_a_resistance_below_zero_is_told_and_stops_nothing(typed):
    """`why` goes on with a word about it."""
    one = bay()
    one.until("pilot-levels")
    one.type(station="6.00", car="6000", mains="231")
    one.until("contact-levels")
    one.type(latched="2.76", empty="4.45", plug=typed)
    assert "is not explained" in reasons(one)
    assert "no resistance" in reasons(one)
