"""Units in knowledge files: kilo-ohms against ohms convert when the file is read, volts against ohms are told with
their column."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from diagtree.knowledge.files import load
from diagtree.knowledge.library import read_library
from diagtree.knowledge.limits import difference, evaluate, propagate
from diagtree.knowledge.place import Finding
from diagtree.knowledge.words import Test as TestWords
from tests.walk.knowledge import TEXTS

CATALOGUE = "catalogue/all.yaml"
SENSOR = {"kind": "ntc", "r25": 10000.0, "beta": 3435.0}
LINES = (
    "    reads: {resistance: ohm, temperature: degC}",
    "    expected: sensor_resistance(temperature, vehicle.inlet.dc_sensor)",
    "    judge: resistance / expected",
    "    outcomes: {low: below 0.9, normal: below 1.1, high: otherwise}",
)


def changed(*lines: str) -> Mapping[str, str]:
    """Return the small folder with the readings and arithmetic of `sensor-ratio` as given."""
    before = "\n".join(LINES)
    assert before in TEXTS[CATALOGUE]
    return {**TEXTS, CATALOGUE: TEXTS[CATALOGUE].replace(before, "\n".join(lines))}


def told(texts: Mapping[str, str]) -> list[Finding]:
    return [one for one in read_library(texts).all_findings() if one.rule == "unit-mismatch"]


def sensor_test(texts: Mapping[str, str]) -> TestWords:
    library = read_library(texts)
    assert library.all_findings() == read_library(TEXTS).all_findings()
    return library.catalogue(None).tests["sensor-ratio"]


def test_the_shipped_and_the_small_folder_have_no_mismatch() -> None:
    assert told(TEXTS) == []
    assert [one for one in load().all_findings() if one.rule == "unit-mismatch"] == []


def test_a_reading_in_kilo_ohms_against_a_formula_in_ohms_converts() -> None:
    in_kilo = sensor_test(changed(LINES[0].replace("ohm", "kohm"), *LINES[1:]))
    values = {"resistance": 10.0, "temperature": 25.0, "vehicle": {"inlet": {"dc_sensor": SENSOR}}}
    assert in_kilo.judge is not None
    assert in_kilo.expected is not None
    value, deviation = propagate(in_kilo.judge, values, {"resistance": 0.1}, in_kilo.expected)
    assert value == pytest.approx(1.0)
    assert deviation == pytest.approx(0.01)
    assert in_kilo.judge.text == "resistance / expected"  # what the author wrote is what is shown


def test_a_limit_comes_out_in_the_unit_of_the_judged_number() -> None:
    found = sensor_test(
        changed(
            LINES[0].replace("ohm", "kohm"),
            LINES[1],
            "    judge: resistance",
            "    outcomes: {low: below 0.9 * expected, normal: below expected * 1.1, high: otherwise}",
        )
    )
    low, normal, high = found.outcomes
    assert low.below is not None
    assert normal.below is not None
    assert high.below is None
    assert evaluate(low.below, {"expected": 10000.0}) == pytest.approx(9.0)
    assert evaluate(normal.below, {"expected": 10000.0}) == pytest.approx(11.0)
    assert found.judge is not None
    gap = difference(found.judge, low.below)
    assert evaluate(gap, {"resistance": 9.5, "expected": 10000.0}) == pytest.approx(0.5)


MISMATCHES = [
    ("expected: resistance + temperature", 1, "resistance + ", "`expected` of test `sensor-ratio`"),
    ("judge: resistance - temperature", 2, "resistance - ", "`judge` of test `sensor-ratio`"),
    ('judge: "resistance - temperature"', 2, '"resistance - ', "`judge` of test `sensor-ratio`"),
    (
        "outcomes: {low: below temperature, normal: below 1.1, high: otherwise}",
        3,
        "{low: below ",
        "the limit of `low` of test `sensor-ratio`",
    ),
]


@pytest.mark.parametrize(("line", "place", "before", "where"), MISMATCHES, ids=[row[0] for row in MISMATCHES])
def test_ohms_against_degrees_are_told_at_their_column(line: str, place: int, before: str, where: str) -> None:
    lines = [*LINES]
    lines[place] = f"    {line}"
    texts = changed(*lines)
    (found, *rest) = told(texts)
    assert {one.place for one in rest} <= {found.place}  # told again for a vehicle at most, never elsewhere
    assert where in found.message
    written = texts[CATALOGUE].splitlines()
    row = next(number for number, text in enumerate(written, 1) if text == f"    {line}")
    assert (found.place.file, found.place.line) == (CATALOGUE, row)
    assert found.place.column == 5 + line.index(before) + len(before)


def test_volts_against_ohms_name_both_units() -> None:
    texts = changed("    reads: {resistance: ohm, level: V}", LINES[1].replace("temperature", "20"),
                    "    judge: resistance - level", LINES[3])  # fmt: skip
    found = told(texts)
    assert found
    assert "is in V (voltage), against ohm (resistance)" in found[0].message


def test_facts_of_the_vehicle_and_written_numbers_fit_anything() -> None:
    for limit in ("vehicle.inlet.limit", "900", "2 * vehicle.inlet.limit + 5"):
        line = LINES[3].replace("0.9", limit)
        assert told(changed(LINES[0], LINES[1], "    judge: resistance", line)) == []


def test_a_name_that_leads_nowhere_is_told_once_and_not_as_a_unit() -> None:
    texts = changed(LINES[0], LINES[1], "    judge: resistanse / expected", LINES[3])
    rules = [one.rule for one in read_library(texts).all_findings()]
    assert "unknown-name" in rules
    assert "unit-mismatch" not in rules
