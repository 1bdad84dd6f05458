"""Where a computed value or a reading stands against published limits, and the other way round (`--solve`)."""

from __future__ import annotations

import json
from typing import Any

import pytest

from diagtree.physics.quantity import Quantity, quantities, quantity_names
from diagtree.physics.standing import subjects
from diagtree.terminal.main import main
from tests.terminal.test_calc import arguments


def answered(capsys: pytest.CaptureFixture[str], *typed: str) -> Any:
    assert main(["calc", *typed, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def stands(found: Any) -> dict[str, str]:
    return {limit["name"]: limit["stands"] for limit in found["limits"]}


# SAE J1772 bands as the open firmware header J1772.h states them, and the windows of IEC 61851-1 Table A.3 as a charge
# controller's manual gives them. [V]
PILOT = {
    "A": ((11.40, 12.60), (11, 13)), "B": ((8.36, 9.56), (8, 10)), "C": ((5.48, 6.49), (5, 7)),
    "D": ((2.62, 3.25), (2, 4)), "F": ((-12.60, -11.40), (-13, -11)),
}  # fmt: skip


@pytest.mark.parametrize("state", PILOT)
def test_pilot_levels_carry_the_published_bands(state: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = answered(capsys, "pilot", "--state", state)
    assert [(limit["low"], limit["high"]) for limit in found["limits"]] == [tuple(map(float, b)) for b in PILOT[state]]
    assert set(stands(found).values()) == {"inside"}, "a circuit of standard parts is healthy"
    assert "SAE J1772" in found["limits"][0]["source"]
    assert "IEC 61851-1 Table A.3" in found["limits"][1]["source"]


@pytest.mark.parametrize(
    ("reading", "healthy", "recognised"),
    [
        ("8.97 +/- 0.05", "inside", "inside"),
        ("8.40 +/- 0.05", "close", "inside"),
        ("8.34 +/- 0.05", "close", "inside"),
        ("8.10 +/- 0.05", "outside", "inside"),
        ("7.98 +/- 0.05", "outside", "close"),
        ("7.50 +/- 0.05", "outside", "outside"),
        ("8.36", "inside", "inside"),
        ("8.3599", "outside", "inside"),
    ],
)
def test_a_reading_is_inside_close_or_outside(
    reading: str, healthy: str, recognised: str, capsys: pytest.CaptureFixture[str]
) -> None:
    found = answered(capsys, "pilot", "--state", "B", "--reading", reading)
    assert stands(found) == {"state B, healthy": healthy, "state B, recognised": recognised}


def test_a_word_for_the_quantitys_own_unit_is_the_reading(capsys: pytest.CaptureFixture[str]) -> None:
    found = answered(capsys, "pilot", "--state", "B", "--volts", "8.10 +/- 0.05")
    assert found["reading"] == {"value": 8.1, "uncertainty": 0.05, "meter": None}
    solved = answered(capsys, "pilot", "--solve", "series", "--volts", "6.821", "--state", "C")
    assert solved["value"] == pytest.approx(300, abs=0.5)


def test_the_line_says_where_the_reading_stands_and_by_which_source(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calc", "pilot", "--state", "B", "--reading", "8.10"]) == 0
    out = capsys.readouterr().out
    assert "limits   outside 8.36 to 9.56 V (state B, healthy; SAE J1772" in out
    assert "means    state B: recognised, not healthy" in out


# IEC 60751 class B as its printed table gives it (from memory of the table; the formula is 0.30 K + 0.005 |t|): at
# 0 degC +/-0.12 ohm, at 100 degC +/-0.30 ohm, at 200 degC +/-0.48 ohm of a Pt100.
@pytest.mark.parametrize(("degrees", "nominal", "off"), [(0, 100.00, 0.12), (100, 138.51, 0.30), (200, 175.86, 0.48)])
def test_platinum_is_held_to_class_b(
    degrees: int, nominal: float, off: float, capsys: pytest.CaptureFixture[str]
) -> None:
    found = answered(capsys, "platinum", "--temperature", str(degrees), "--sensor", "platinum", "r0=100")
    (limit,) = found["limits"]
    assert found["value"] == pytest.approx(nominal, abs=0.005)
    assert limit["low"] == pytest.approx(nominal - off, abs=0.01)
    assert limit["high"] == pytest.approx(nominal + off, abs=0.01)


def test_a_limit_that_moves_with_a_reading_brings_its_uncertainty(capsys: pytest.CaptureFixture[str]) -> None:
    """A platinum sensor moves 3.9 ohm a degree (IEC 60751, Pt1000): a thermometer of +/-1 K is +/-3.9 ohm."""
    typed = ["platinum", "--sensor", "platinum", "r0=1000", "--reading", "1070 +/- 0.1"]
    assert set(stands(answered(capsys, *typed, "--temperature", "18")).values()) == {"inside"}
    assert set(stands(answered(capsys, *typed, "--temperature", "18 +/- 1")).values()) == {"close"}
    computed = answered(capsys, *typed[:4], "--temperature", "18 +/- 1")
    assert set(stands(computed).values()) == {"inside"}, "what is computed moves along with its own limits"


BLEEDER = ["discharge-voltage", "--resistance", "50k", "--capacitance", "1m"]


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        # 100 ohm/V: UN Regulation 100, 5.1.3.1. A safety limit needs the whole uncertainty on the safe side.
        (["insulation", "--voltage", "400", "--reading", "50 k +/- 1 k"], "inside"),
        (["insulation", "--voltage", "400", "--reading", "40.5 k +/- 1 k"], "close"),
        (["insulation", "--voltage", "400", "--reading", "30 k +/- 1 k"], "outside"),
        (["insulation", "--voltage", "400", "--reading", "OL"], "inside"),
        # 60 V DC: UN Regulation 100, ISO 6469-3. 1 mF, 50 kohm, 400 V: 60 V after 94.9 s.
        ([*BLEEDER, "--volts", "400", "--time", "94"], "outside"),
        ([*BLEEDER, "--volts", "400", "--time", "96"], "inside"),
        ([*BLEEDER, "--volts", "400 +/- 12", "--time", "96"], "close"),
        # 0.2 J: ISO 6469-4. 1 mF holds it at 20 V.
        (["capacitor-energy", "--voltage", "19", "--capacitance", "1m"], "inside"),
        (["capacitor-energy", "--voltage", "21", "--capacitance", "1m"], "outside"),
        # 230 V +/-10 %: IEC 60038.
        (["supply-lowest", "--reading", "207"], "inside"),
        (["supply-lowest", "--reading", "206.9"], "outside"),
        (["supply-highest", "--reading", "253.1"], "outside"),
        # below 0.1 ohm at 0.2 A or more: UN Regulation 100, 5.1.2.2.
        (["four-wire-resistance", "--voltage", "10 m", "--current", "0.2"], "inside"),
        (["four-wire-resistance", "--voltage", "30 m", "--current", "0.2"], "outside"),
        (["rcd-trip-time", "--reading", "0.31"], "outside"),
    ],
    ids=lambda part: " ".join(part) if isinstance(part, list) else part,
)  # fmt: skip
def test_limits_of_standards(typed: list[str], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = answered(capsys, *typed)
    assert [limit["stands"] for limit in found["limits"]] == [says]
    assert found["limits"][0]["source"]


def test_insulation_by_two_voltages_stands_against_both_circuits(capsys: pytest.CaptureFixture[str]) -> None:
    typed = ["--bus", "400", "--negative", "250", "--positive", "150", "--known", "100 k", "--side", "negative"]
    found = answered(capsys, "insulation-resistance", *typed, "--with-known", "100")
    assert found["value"] == pytest.approx(240e3)  # 100 k * 400 * (1/100 - 1/250)
    assert [limit["low"] for limit in found["limits"]] == [40e3, 200e3]
    assert set(stands(found).values()) == {"inside"}


def test_a_plug_is_put_into_words_by_its_verdict(capsys: pytest.CaptureFixture[str]) -> None:
    """220 ohm codes 32 A (IEC 61851-1 Table B.3), which reads 1.945 V at a CCS2 car's pin."""
    found = answered(capsys, "proximity-resistance", "--voltage", "1.945 +/- 0.01")
    assert found["verdict"] == {"quantity": "proximity-coding", "says": "32 A", "could_be": []}
    found = answered(capsys, "proximity-resistance", "--voltage", "2.22 +/- 0.20")
    assert "20 A (between two bands: the lower)" in [found["verdict"]["says"], *found["verdict"]["could_be"]]


def test_the_cars_own_test_limits_a_sensor(capsys: pytest.CaptureFixture[str]) -> None:
    """The shipped test calls 0.85 to 1.18 of what is expected normal on the Petrel, 0.97 to 1.03 on the Marlin."""
    for car, low, high in (("petrel-2", 0.85, 1.18), ("marlin-1", 0.97, 1.03)):
        sensor = ["--vehicle", car, "--sensor", "inlet.ac_sensor"]
        found = answered(capsys, "sensor", "--temperature", "18", *sensor, "--reading", "OL")
        (limit,) = [one for one in found["limits"] if one["name"].startswith("test")]
        assert limit["low"] == pytest.approx(low * found["value"])
        assert limit["high"] == pytest.approx(high * found["value"])
        assert limit["stands"] == "outside"


def test_the_cars_own_proximity_circuit_is_used_and_never_guessed(capsys: pytest.CaptureFixture[str]) -> None:
    assert answered(capsys, "pp", "--plug", "220", "--vehicle", "petrel-2")["inputs"]["pull_down"] == 4700.0
    assert main(["calc", "pp", "--plug", "220", "--vehicle", "marlin-1"]) == 2
    err = capsys.readouterr().err
    assert "--pull-down" in err
    assert "unknown on this car" in err


def test_every_limit_is_of_a_quantity_that_exists_and_can_be_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    served = frozenset().union(*(subject.serves for subject in subjects()))
    assert {name.replace("-", "_") for name in served} <= quantity_names()
    for one in quantities():
        if one.id in served:
            asked = [(*arguments(example.inputs), "--reading", repr(example.expected)) for example in one.worked]
            assert any(answered(capsys, one.id, *typed)["limits"] for typed in asked), f"{one.id} shows no limit"


@pytest.mark.parametrize("one", [one for one in quantities() if one.inverses], ids=lambda one: one.id)
def test_what_is_solved_for_gives_the_value_back(one: Quantity, capsys: pytest.CaptureFixture[str]) -> None:
    for name, _ in one.inverses.items():
        example = next((example for example in one.worked if name in example.inputs), None)
        if example is None:
            continue
        rest = {key: value for key, value in example.inputs.items() if key != name}
        value = one.compute(**example.inputs)
        status = main(["calc", one.id, "--solve", name, f"--value={value!r}", *arguments(rest), "--json"])
        out, err = capsys.readouterr()
        if status == 2:
            assert "no" in err or "range" in err, "some examples lie where the inverse tells nothing"
            continue
        found = json.loads(out)
        again = one.compute(**{**example.inputs, name: float(found["value"])})
        assert again == pytest.approx(value, rel=1e-6, abs=1e-9)
        assert found["solved"] == name


def test_the_series_resistance_of_a_pilot(capsys: pytest.CaptureFixture[str]) -> None:
    """300 ohm in the loop lift state C to 6.821 V (nodal analysis of the circuit of IEC 61851-1 Annex A)."""
    found = answered(capsys, "pilot", "--solve", "series", "--value", "6.821", "--state", "C")
    assert found["value"] == pytest.approx(300, abs=0.5)
    assert found["unit"] == "ohm"
    assert stands(found)["state C, healthy"] == "outside"
    assert found["caution"]


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (["pilot", "--solve", "leakage", "--value", "8", "--state", "B"], ("leakage", "--solve series")),
        (["pilot-low", "--solve", "state", "--value", "8"], ("state", "forward only")),
        (["pilot", "--solve", "series", "--state", "B"], ("--value", "missing")),
        (["pilot", "--value", "8", "--state", "B"], ("--value", "--solve", "series")),
        (["pilot", "--solve", "series", "--value", "8", "--series", "3", "--state", "B"], ("--series", "leave it out")),
        (["pilot-state", "--solve", "voltage", "--value", "8"], ("pilot-state", "word")),
        (["pilot", "--solve", "series", "--value", "8.1", "--state", "B"], ("8.1 V", "no series resistance")),
        (["pilot", "--state", "B", "--csv-out", "x"], ("--csv-out", "--csv FILE")),
    ],
)
def test_what_cannot_be_solved_is_told_with_what_can(
    typed: list[str], says: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["calc", *typed]) == 2
    out, err = capsys.readouterr()
    assert (out, len(err.splitlines())) == ("", 1)
    for word in says:
        assert word in err
