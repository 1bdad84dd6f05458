"""The bench calculator: every worked example through the command line, its machine face, and words for bad inputs."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

import pytest

from diagtree.physics.observable import observable_names
from diagtree.physics.quantity import Quantity, Value, quantities
from diagtree.physics.verdict import Verdict, verdicts
from diagtree.report.quantities_page import CAUTIONS
from diagtree.terminal.main import main

ALL: tuple[Quantity | Verdict, ...] = (*quantities(), *verdicts())
EXAMPLES = [(one, example) for one in ALL for example in one.worked]


def arguments(inputs: Mapping[str, Value]) -> list[str]:
    """Return inputs as a person types them."""
    found = []
    for name, value in inputs.items():
        found += [f"--{name.replace('_', '-')}", *words(value)]
    return found


def words(value: Value) -> list[str]:
    if not isinstance(value, Mapping):
        return [str(value)]
    kind = [str(value["kind"])] if "kind" in value else []
    table = value.get("table", {})
    assert isinstance(table, Mapping)
    rows = [f"{degrees}:{ohms}" for degrees, ohms in table.items()]
    return [*kind, *(f"{name}={fact}" for name, fact in value.items() if name not in ("kind", "table")), *rows]


def answered(capsys: pytest.CaptureFixture[str], *typed: str) -> Any:
    status = main(["calc", *typed, "--json"])
    found = json.loads(capsys.readouterr().out)
    assert status == str(found.get("value")).startswith("HAZARDOUS")  # a proof that failed
    return found


@pytest.mark.parametrize(("one", "example"), EXAMPLES, ids=[f"{one.id}-{n}" for n, (one, _) in enumerate(EXAMPLES)])
def test_worked_examples_come_out_as_printed(
    one: Quantity | Verdict, example: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    found = answered(capsys, one.id, *arguments(example.inputs))
    assert {"quantity", "value", "unit", "source", "inputs"} <= set(found)
    assert found["quantity"] == one.id
    assert found["source"] == one.source
    assert set(found["inputs"]) == set(example.inputs)
    if isinstance(one, Verdict):
        assert (found["value"], found["unit"]) == (example.expected, "")
    else:
        assert float(found["value"]) == pytest.approx(example.expected, abs=example.tolerance + 1e-12, rel=1e-12)
        assert found["unit"] == one.unit


BAD = [
    (["pilot", "--state", "C", "--series", "nan"], ("--series", "nan", "0 ohm to 10 Mohm")),
    (["pilot", "--state", "C", "--series", "-5"], ("series", "-5 ohm", "0 ohm to 10 Mohm")),
    (["pilot-current", "--duty", "7.5"], ("duty", "7.5 percent", "8 to 97 percent")),
    (["platinum", "--temperature", "-300", "--sensor", "platinum", "r0=1000"], ("temperature", "below absolute zero")),
    (["pilot", "--state", "C", "--series", "1,2,3"], ("--series", "1,2,3", "2 decimal marks", "0 ohm to 10 Mohm")),
    (["pilot", "--state", "C", "--series", "5 V"], ("--series", "voltage", "resistance")),
    (["pilot", "--state", "G"], ("state", "one of A, B, C, D, E, F")),
    (["pilot", "--stat", "C"], ("--stat", "did you mean `state`")),
    (["pilot", "--state", "C", "--state", "B"], ("--state", "twice")),
    (["pilot"], ("--state", "state of the control pilot", "one of A, B, C, D, E, F")),
    (["pilot", "C"], ("`C` stands alone", "--state C")),
    (["ntc", "--temperature", "20", "--sensor", "inlet.ac_sensor"], ("--sensor", "--vehicle")),
    (["ntc", "--temperature", "20", "--sensor", "ntc", "r25=10x", "beta=3435"], ("--sensor", "r25=10x")),
    (["nct"], ("nct", "did you mean `ntc`", "calc --list")),
    ([], ("name a quantity", "calc --list")),
]


@pytest.mark.parametrize(("typed", "says"), BAD, ids=[" ".join(row[0]) or "nothing" for row in BAD])
def test_bad_inputs_are_told_by_name_and_range(
    typed: list[str], says: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["calc", *typed]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
    for word in says:
        assert word in err


def test_the_caution_comes_first_wherever_it_is_live(capsys: pytest.CaptureFixture[str]) -> None:
    for one in ALL:
        assert main(["calc", one.id, *arguments(one.worked[0].inputs)]) == 0
        first = capsys.readouterr().out.splitlines()[0]
        assert (first == f"CAUTION: {CAUTIONS[one.hazard]}") is (one.hazard != "none")


def test_the_list_names_every_quantity_on_its_own_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calc", "--list"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split(":")[0].split()[0] for line in lines[1 : len(ALL) + 1]] == [one.id for one in ALL]
    found = answered(capsys, "--list")
    assert [row["quantity"] for row in found["quantities"]] == [one.id for one in ALL]
    # What can be measured on a car, each name by itself, is listed here and nowhere else.
    names = [row["name"] for row in found["observables"]]
    assert sorted(names) == list(observable_names())
    assert all(any(line.startswith(f"{name} [") for line in lines) for name in names)


def test_words_narrow_the_list(capsys: pytest.CaptureFixture[str]) -> None:
    found = answered(capsys, "--list", "proximity", "plug")
    shown = [str(row).lower() for rows in found.values() if isinstance(rows, list) for row in rows]
    assert "proximity-resistance" in [row["quantity"] for row in found["quantities"]]
    assert shown
    assert all("proximity" in row and "plug" in row for row in shown)
    assert main(["calc", "--list", "no-such-thing"]) == 2
    assert "no-such-thing" in capsys.readouterr().err


def test_units_words_and_infinity_are_typed_as_a_technician_does(capsys: pytest.CaptureFixture[str]) -> None:
    typed = answered(capsys, "pilot", "--state", "c", "--series", "0.3", "k", "--leakage", "none")
    assert typed == answered(capsys, "pilot_voltage", "--state=C", "--series=300", "--leakage", "inf")
    assert typed["inputs"] == {"state": "C", "series": 300.0, "leakage": "inf"}


def test_a_sensor_is_taken_from_the_profile(capsys: pytest.CaptureFixture[str]) -> None:
    sensor = ["--vehicle", "marlin-1", "--sensor", "vehicle.inlet.ac_sensor"]
    assert answered(capsys, "sensor", "--temperature", "0", *sensor)["value"] == pytest.approx(1000.0)
    assert main(["calc", "proximity-voltage", "--vehicle", "marlin-9", "--plug", "150"]) == 2
    assert "marlin-1" in capsys.readouterr().err
