"""What is told after a number was typed: units, the temperature and the sensor the band is for, the meter's share."""

from __future__ import annotations

import pytest

from diagtree.knowledge.library import read_library
from diagtree.walk.context import Walk
from diagtree.walk.judging import read, verdict
from diagtree.walk.verdict_text import verdict_lines

TEXTS = {
    "workshop.yaml": """\
workshop: Harbour Lane Garage
rate: 60
referral: 250
comeback: 300
meters: {multimeter: {ohm: {percent: 0.9, counts: 3}}, thermometer: {degC: {percent: 3, counts: 2}}}
""",
    "vehicles/ntc-car.yaml": """\
vehicle: ntc-car
name: Car with a thermistor
inlet: {ac_sensor: {kind: ntc, r25: 10000, beta: 3435}}
""",
    "vehicles/platinum-car.yaml": """\
vehicle: platinum-car
name: Car with a platinum sensor
inlet: {ac_sensor: {kind: platinum, r0: 1000}}
""",
    "catalogue/all.yaml": """\
tests:
  in-ohms:
    ask: Resistance of the sensor
    place: reception
    minutes: 1
    needs: {power: any, tools: [multimeter]}
    reads: {resistance: ohm, at: degC}
    expected: sensor_resistance(at, vehicle.inlet.ac_sensor)
    judge: resistance / expected
    outcomes: {low: below 0.92, normal: below 1.08, high: otherwise}
    healthy: normal
    mistake: 2
    source: common practice
  in-kilo-ohms: {ask: The same, place: reception, minutes: 1, reads: {resistance: kohm, at: degC},
    expected: 'sensor_resistance(at, vehicle.inlet.ac_sensor)', judge: resistance / expected,
    outcomes: {low: below 0.92, normal: below 1.08, high: otherwise}, healthy: normal, mistake: 2,
    source: common practice}
  rise: {ask: How much warmer, place: reception, minutes: 1, needs: {power: any, tools: [thermometer]},
    reads: {before: degC, after: degC}, judge: after - before, outcomes: {normal: below 35, hot: otherwise},
    healthy: normal, mistake: 2, source: common practice}
  insulation: {ask: Insulation, place: reception, minutes: 1, needs: {power: any, tools: [multimeter]},
    reads: {insulation: ohm}, outcomes: {low: below 1000000, good: otherwise}, healthy: good, mistake: 2,
    source: common practice}
  gap: {ask: A difference, place: reception, minutes: 1, reads: {one: kohm, other: ohm}, judge: one - other,
    outcomes: {small: below 5, wide: otherwise}, healthy: small, mistake: 2, source: common practice}
causes:
  worn: {name: Worn, where: outside, shows: {in-ohms: {high: 100}}, advise: {do: Replace it., minutes: 5}}
""",
    "complaint.yaml": """\
diagtree: 1
tree: complaint
title: Complaint
revision: 1
hears: [it fails]
causes: {worn: 80, something-else: 20}
start: in-ohms
steps:
  in-ohms: {then: {low: {conclude: worn}, normal: {conclude: worn}, high: {conclude: worn}}}
""",
}


def told(car: str, test: str, **typed: str) -> str:
    """Return the lines after these readings, joined."""
    walk = Walk.begin(read_library(TEXTS), "complaint", car)
    one = walk.test(test)
    readings = read(walk, one, typed)
    return "\n".join(verdict_lines(one, verdict(walk, one, readings, {}), readings, walk.facts))


def test_the_band_names_temperature_sensor_and_meter() -> None:
    """10 k and beta 3435 K at 18 degC make 13.19 k (beta form by hand); 0.92 and 1.08 of it are 12.1 k and 14.2 k."""
    text = told("ntc-car", "in-ohms", resistance="13.19 k", at="18")
    assert (
        "normal means between 12.1 kohm and 14.2 kohm at 18 degC on this car "
        "(10 kohm NTC, beta 3435 K, +/-8 %; your multimeter +/-170 ohm)" in text
    )
    assert "expected here: 13.19 kohm = sensor_resistance(at, vehicle.inlet.ac_sensor)" in text


def test_another_car_is_another_sensor() -> None:
    """IEC 60751 prints 1077.93 ohm at 20 degC for 1000 ohm."""
    text = told("platinum-car", "in-ohms", resistance="1078", at="20")
    assert "between 992 ohm and 1.16 kohm at 20 degC on this car (platinum, 1 kohm at 0 degC, +/-8 %;" in text


@pytest.mark.parametrize("typed", ["13.19", "13190 ohm", "13.19 kohm"])
def test_a_reading_in_kilo_ohms_has_its_band_in_kilo_ohms(typed: str) -> None:
    """What is expected in ohms is brought to the reading's unit before the band is told."""
    assert "between 12.1 kohm and 14.2 kohm" in told("ntc-car", "in-kilo-ohms", resistance=typed, at="18")


def test_a_difference_of_temperatures_is_in_kelvins() -> None:
    """3 % + 2 counts of 1 K at 21 and at 30: a = 2.63 and 2.9, U = 2 sqrt(a1^2 + a2^2) / sqrt 3 = 4.5 K."""
    text = told("ntc-car", "rise", before="21", after="30")
    assert "after - before = 9 K +/- 4.5 K: normal" in text
    assert "normal means below 35 K on this car" in text


def test_a_spread_has_the_readings_unit() -> None:
    """0.9 % of 1.01 M and 3 counts of 10 k: a = 39.09 k, U = 45.1 k."""
    text = told("ntc-car", "insulation", insulation="1.01 M")
    assert "insulation = 1.01 Mohm +/- 45 kohm: good (close)" in text
    assert "good means 1 Mohm or more on this car" in text


def test_readings_in_two_units_are_told_in_the_first() -> None:
    """10 kohm less 4.9 kohm."""
    text = told("ntc-car", "gap", one="10", other="4.9k")
    assert "one - other = 5.1 kohm: wide" in text
    assert "wide means 5 kohm or more on this car" in text


def test_above_the_range_is_told_in_words() -> None:
    """OL against a sensor's curve."""
    text = told("ntc-car", "in-ohms", resistance="OL", at="18")
    assert "resistance / expected = above the meter's range: high" in text
    assert "high means 14.2 kohm or more at 18 degC on this car (10 kohm NTC, beta 3435 K)" in text
