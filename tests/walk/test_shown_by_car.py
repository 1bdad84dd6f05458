"""What the car itself shows has the accuracy of no hand meter, though one lies beside the scan tool."""

from __future__ import annotations

import pytest

from diagtree.car.car import Car
from diagtree.knowledge.files import load
from diagtree.physics.meter import shown_by_car
from diagtree.report.job_record_answers import _shown
from diagtree.walk.context import Walk
from diagtree.walk.judging import read


@pytest.fixture(scope="module")
def walk() -> Walk:
    return Walk.begin(load(), "heat-or-smell", "petrel-2")


def test_the_readout_is_the_cars_own_number_and_the_rim_the_thermometers(walk: Walk) -> None:
    test = walk.test("inlet-temperature-readout")
    readings = read(walk, test, {"readout": "31", "rim": "22.0"})
    assert readings.meters == {"rim": "contact-thermometer"}
    assert readings.deviations["readout"] == 0
    assert readings.deviations["rim"] > 0
    readout, rim = _shown(test, readings)
    assert (readout.meter, readout.spread) == ("as the car reports it", "")
    assert (rim.meter, bool(rim.spread)) == ("contact thermometer", True)


def test_what_the_simulated_car_shows_carries_no_meters_noise(walk: Walk) -> None:
    test = "inlet-temperature-readout"
    car = Car(walk.catalogue, walk.facts, walk.meters, None, 3)
    shown = [car.answer(test, time).readings for time in range(5)]
    assert len({one["readout"] for one in shown}) == 1
    assert len({one["rim"] for one in shown}) > 1


def test_every_temperature_that_a_scan_tool_reads_is_known_as_such(walk: Walk) -> None:
    """A new test with both a scan tool and a thermometer must say by its observable which of them reads what."""
    for test in walk.catalogue.tests.values():
        if {"scan-tool", "contact-thermometer"} <= set(test.needs.tools):
            assert {shown_by_car(item.of) for item in test.reads} == {True, False}
