"""`of:` and `fault:` name what physics knows: what leads nowhere is told with its place, and the walk still goes."""

from __future__ import annotations

import pytest

from diagtree.check.rule import rules
from diagtree.check.run import check_library
from diagtree.knowledge.files import load
from diagtree.knowledge.library import read_library
from diagtree.knowledge.place import Finding, Level
from tests.walk.knowledge import TEXTS

CATALOGUE = "catalogue/all.yaml"
NAMES = {"unknown-observable", "observable-in-other-unit", "unknown-part", "unknown-fault"}
RULES = tuple(rule for rule in rules() if rule.id in NAMES)


def told(before: str, after: str) -> tuple[list[Finding], int, str]:
    """Return what is told when the small folder's `before` becomes `after`, the line of that, and its text."""
    assert TEXTS[CATALOGUE].count(before) == 1
    text = TEXTS[CATALOGUE].replace(before, after)
    row = next(number for number, line in enumerate(text.splitlines(), 1) if after in line)
    found = [one for one in check_library(read_library({**TEXTS, CATALOGUE: text}), RULES) if one.rule in NAMES]
    return found, row, text.splitlines()[row - 1]


READS = "reads: {level: volt}"


@pytest.mark.parametrize(
    ("reads", "rule", "at", "says"),
    [
        ("reads: {level: {unit: volt, of: voltage(suply)}}", "unknown-observable", "voltage", "there is no observable"),
        (
            "reads: {level: {unit: volt, of: 'voltage(suply, l1)'}}", "unknown-observable", "'voltage",
            "did you mean `voltage(supply, l1)`",
        ),
        (
            "reads: {level: {unit: volt, of: resistance(inlet.ac_sensor)}}", "observable-in-other-unit", "resistance",
            "is in V, but `resistance(inlet.ac_sensor)` is measured in ohm",
        ),
        ("reads: {level: {unit: K, of: temperature(inlet)}}", "observable-in-other-unit", "temperature", "in degC"),
    ],
)  # fmt: skip
def test_an_observable_that_is_none_is_told_at_its_place(reads, rule, at, says):
    found, row, line = told(READS, reads)
    assert [one.rule for one in found] == [rule]
    assert says in found[0].message
    assert (found[0].place.file, found[0].place.line) == (CATALOGUE, row)
    assert found[0].place.column == line.index(at, line.index("of:") + 3) + 1


@pytest.mark.parametrize(
    "reads",
    [
        "reads: {level: {unit: volt, of: 'voltage(supply, l1)'}}",
        "reads: {level: {unit: mV, of: 'voltage(supply,l1,idle)'}}",
        "reads: {level: {unit: kW, of: power(ac)}}",
        "reads: {level: {unit: volt}}",
    ],
)
def test_an_observable_in_its_own_kind_of_unit_is_fine(reads):
    assert told(READS, reads)[0] == []


NAMED = "name: broken sensor, where: inlet,"


@pytest.mark.parametrize(
    ("fault", "rule", "at", "says"),
    [
        ("{inlet.ac_sensr: open}", "unknown-part", "inlet.ac_sensr", "did you mean `inlet.ac_sensor`"),
        ("{inlet.ac_sensor: opne}", "unknown-fault", "opne", "did you mean `open`"),
        ("{inlet.ac_sensor: series 3 V}", "unknown-fault", "series", "voltage"),
        ("{pilot: 300}", "unknown-fault", "300", "a number alone says nothing"),
        ("{pilot: series -300 ohm}", "unknown-fault", "series", "out of range"),
        ("{supply: 195000}", "unknown-fault", "195000", "out of range"),
    ],
)
def test_a_fault_that_is_none_is_told_at_its_place(fault, rule, at, says):
    found, row, line = told(NAMED, f"{NAMED} fault: {fault},")
    assert [one.rule for one in found] == [rule]
    assert says in found[0].message
    assert (found[0].place.line, found[0].place.column) == (row, line.index(at, line.index("fault:")) + 1)
    assert found[0].level is Level.WARNING


@pytest.mark.parametrize(
    ("fault", "means"),
    [
        ("{inlet.ac_sensor: open}", {"inlet.ac_sensor": "open"}),
        ("{pilot: series 300 ohm}", {"pilot": "series 300 ohm"}),
        ("{pilot: leakage 2 kohm}", {"pilot": "leakage 2 kohm"}),
        ("{supply: 195}", {"supply": 195.0}),
        ("{DC+: leakage 50 kohm}", {"DC+": "leakage 50 kohm"}),
        ("{12 V battery: weak}", {"12 V battery": "weak"}),
    ],
)
def test_a_fault_that_physics_knows_is_kept_as_it_is_written(fault, means):
    assert told(NAMED, f"{NAMED} fault: {fault},")[0] == []
    text = TEXTS[CATALOGUE].replace(NAMED, f"{NAMED} fault: {fault},")
    assert read_library({**TEXTS, CATALOGUE: text}).catalogue(None).causes["sensor"].fault == means


def test_the_walk_goes_on_with_a_name_that_leads_nowhere():
    text = TEXTS[CATALOGUE].replace(NAMED, f"{NAMED} fault: {{inlet.ac_sensr: open}},")
    tree, _ = read_library({**TEXTS, CATALOGUE: text}).require("first", "petrel-9")
    assert tree.id == "first"


def test_the_shipped_names_lead_somewhere():
    assert [one for one in check_library(load(), RULES) if one.rule in NAMES] == []
