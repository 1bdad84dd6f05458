"""Close to a limit, the walk offers a better meter; never one that is made for another job."""

from __future__ import annotations

from diagtree.knowledge.library import read_library
from diagtree.walk.context import Walk
from diagtree.walk.judging import better_meters

TEXTS = {
    "workshop.yaml": """\
workshop: Harbour Lane Garage
rate: 60
referral: 250
comeback: 300
meters:
  multimeter: {ohm: {percent: 0.9, counts: 3}}
  bench-meter: {ohm: {percent: 0.1, counts: 1}}
  old-meter: {ohm: {percent: 2, counts: 3}}
  coarse-meter: {ohm: {percent: 0.1, counts: 9}}
  twin-meter: {ohm: {percent: 0.9, counts: 3}}
  insulation-tester: {ohm: {percent: 0.5, counts: 2}}
  voltmeter: {volt: {percent: 0.1, counts: 1}}
""",
    "catalogue/all.yaml": """\
tests:
  sensor: {ask: Resistance of the sensor, place: reception, minutes: 1, needs: {power: any, tools: [multimeter]},
    reads: {resistance: ohm}, outcomes: {low: below 100, normal: otherwise}, healthy: normal, mistake: 2,
    source: common practice}
  by-eye: {ask: The same without a meter of the house, place: reception, minutes: 1, reads: {resistance: ohm},
    outcomes: {low: below 100, normal: otherwise}, healthy: normal, mistake: 2, source: common practice}
  insulation: {ask: Insulation, place: reception, minutes: 1, needs: {power: any, tools: [insulation-tester]},
    reads: {insulation: ohm}, outcomes: {low: below 1000000, good: otherwise}, healthy: good, mistake: 2,
    source: common practice}
causes:
  worn: {name: Worn, where: outside, shows: {sensor: {low: 100}}, advise: {do: Replace it., minutes: 5}}
""",
    "complaint.yaml": """\
diagtree: 1
tree: complaint
title: Complaint
revision: 1
hears: [it fails]
causes: {worn: 80, something-else: 20}
start: sensor
steps:
  sensor: {then: {low: {conclude: worn}, normal: {conclude: worn}}}
""",
}
WALK = Walk.begin(read_library(TEXTS), "complaint")


def offered(test: str, used: str | None = None) -> list[str]:
    """Return what is offered for a resistance of this test."""
    return better_meters(WALK, WALK.test(test), "ohm", used)


def test_only_a_better_meter_is_offered() -> None:
    """Better in per cent or counts and worse in neither; a meter in another unit reads nothing here."""
    assert offered("sensor") == ["bench-meter"]


def test_after_the_better_meter_none_is_better() -> None:
    """The one in use is not offered again."""
    assert offered("sensor", "bench-meter") == []


def test_an_insulation_tester_is_never_offered_for_a_sensor() -> None:
    """On paper it reads more exactly than the multimeter; its 500 V would destroy the sensor."""
    assert "insulation-tester" not in offered("sensor")
    assert set(offered("insulation", "multimeter")) == {"insulation-tester", "bench-meter"}


def test_a_reading_without_a_meter_is_exact() -> None:
    """It is never close, and nothing is better."""
    assert offered("by-eye") == []
