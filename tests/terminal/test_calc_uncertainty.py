"""Uncertainty at the bench: against a general library, against worked numbers, and where a reading then stands."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat, umath  # type: ignore[import-untyped]

from diagtree.terminal.main import main


def answered(capsys: pytest.CaptureFixture[str], *typed: str) -> Any:
    status = main(["calc", *typed, "--json"])
    found = json.loads(capsys.readouterr().out)
    assert status == str(found.get("value")).startswith("HAZARDOUS")  # a proof that failed
    return found


def told(capsys: pytest.CaptureFixture[str], *typed: str) -> str:
    assert main(["calc", *typed]) == 0
    return capsys.readouterr().out


def test_a_readings_uncertainty_is_twice_a_over_root_three(capsys: pytest.CaptureFixture[str]) -> None:
    """Per cent of the reading + counts of the digit typed, rectangular, k = 2 (GUM 4.3.7, 6.2.1)."""
    # The house's multimeter: 0.5 % + 2 counts on volts; 8.10 V has counts of 0.01 V.
    found = answered(capsys, "leak-resistance", "--voltage", "8.10", "--current", "0.001", "--meter", "multimeter")
    limit = 0.005 * 8.10 + 2 * 0.01
    assert found["uncertainties"] == {"voltage": pytest.approx(2 * limit / math.sqrt(3))}
    assert found["meters"] == {"voltage": "multimeter"}
    assert found["uncertainty"] == pytest.approx(2 * limit / math.sqrt(3) / 0.001)
    assert found["coverage"] == 2


def test_no_reading_no_uncertainty(capsys: pytest.CaptureFixture[str]) -> None:
    found = answered(capsys, "ac-power", "--voltage", "230", "--current", "16")
    assert (found["uncertainty"], found["coverage"], found["meters"]) == (None, None, {})
    assert "+/-" not in told(capsys, "ac-power", "--voltage", "230", "--current", "16").splitlines()[1]


@settings(max_examples=40, deadline=None)
@given(
    volts=st.floats(100, 400), amps=st.floats(1, 60), share=st.floats(0.1, 2), spread=st.floats(0.01, 0.5),
)  # fmt: skip
def test_propagation_agrees_with_uncertainties_on_power(volts: float, amps: float, share: float, spread: float) -> None:
    """Second opinion: the general-purpose library `uncertainties` (automatic differentiation)."""
    from diagtree.physics.quantity import quantity
    from diagtree.physics.typed_readings import Typed
    from diagtree.report.bench_result import computed

    inputs = {"voltage": Typed(volts, volts * share / 100), "current": Typed(amps, spread)}
    found = computed(quantity("ac-power"), inputs)
    second = ufloat(volts, volts * share / 200) * ufloat(amps, spread / 2)
    assert found.expanded == pytest.approx(2 * second.std_dev, rel=1e-6)


def test_propagation_agrees_with_uncertainties_on_a_sensor(capsys: pytest.CaptureFixture[str]) -> None:
    found = answered(capsys, "ntc", "--temperature", "18 +/- 1", "--sensor", "ntc", "r25=10000", "beta=3435")
    kelvin = ufloat(18 + 273.15, 0.5)
    second = 10000 * umath.exp(3435 * (1 / kelvin - 1 / 298.15))
    assert found["value"] == pytest.approx(second.nominal_value, rel=1e-9)
    assert found["uncertainty"] == pytest.approx(2 * second.std_dev, rel=1e-4)


def test_the_inverse_carries_uncertainty_too(capsys: pytest.CaptureFixture[str]) -> None:
    found = answered(capsys, "four-wire-resistance", "--solve", "voltage", "--value", "10 m +/- 1 m", "--current", "2")
    assert (found["solved"], found["unit"]) == ("voltage", "V")
    assert (found["value"], found["uncertainty"]) == (pytest.approx(0.02), pytest.approx(0.002))


@pytest.mark.parametrize(
    ("typed", "value", "spread"),
    [
        ("8.1 +/- 0.05", 8.1, 0.05),
        ("8.1+/-0.05 V", 8.1, 0.05),
        ("8.1 ± 0.05", 8.1, 0.05),
        ("8,1 +/- 0,05", 8.1, 0.05),
        ("8.1 +/- 1 %", 8.1, 0.081),
        ("8100 +/- 50 mV", 8.1, 0.05),
        ("8100 mV +/- 50", 8.1, 0.05),
        ("8100 mV +/- 0.05 V", 8.1, 0.05),
        ("8.1 +/- 0", 8.1, 0.0),
    ],
)
def test_explicit_uncertainty_is_read(
    typed: str, value: float, spread: float, capsys: pytest.CaptureFixture[str]
) -> None:
    found = answered(capsys, "leak-resistance", f"--volts={typed}", "--amps", "1")
    assert found["inputs"]["voltage"] == pytest.approx(value)
    assert found["uncertainties"].get("voltage", 0.0) == pytest.approx(spread)


@pytest.mark.parametrize("spread", ["1", "1 K", "1 degC", "1 C"])
def test_a_spread_of_temperature_is_a_difference(spread: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = answered(capsys, "platinum", f"--temperature=18 +/- {spread}", "--sensor", "platinum", "r0=1000")
    assert found["uncertainties"]["temperature"] == pytest.approx(1.0)
    assert found["uncertainty"] == pytest.approx(3.89, abs=0.02)  # IEC 60751: 0.389 ohm/K of a Pt100 near 18 degC


def test_value_and_uncertainty_are_shown_in_one_unit_and_rounded_together(capsys: pytest.CaptureFixture[str]) -> None:
    """Two digits of the uncertainty, and none of the value beyond them (GUM 7.2.6)."""
    assert ": 3680 W +/- 43 W" in told(capsys, "power", "--volts", "230 +/- 1 %", "--amps", "16 +/- 0.1")
    assert ": 5 Mohm +/- 0.25 Mohm" in told(capsys, "leak-resistance", "--volts", "500 +/- 5 %", "--amps", "0.1 m")
    assert ": 0.9 +/- 0.01\n" in told(capsys, "charging-efficiency", "--supplied", "10", "--stored", "9 +/- 0.1")
    assert ": 18 degC +/- 1 K" in told(
        capsys, "sensor-temperature", "--ohms", "1070.2 +/- 3.9", "--sensor", "platinum r0=1000"
    )


def test_infinity_and_exact_numbers_bring_none(capsys: pytest.CaptureFixture[str]) -> None:
    found = answered(capsys, "pp", "--plug", "inf", "--meter", "multimeter")
    assert found["uncertainty"] is None
    found = answered(capsys, "leak-resistance", "--volts", "8.10 +/- 0", "--amps", "1", "--meter", "multimeter")
    assert found["uncertainty"] is None


BAD = [
    (["--volts", "8.1 +/- "], ("--voltage", "lacks a number", "8.1 +/- 0.05")),
    (["--volts", "8.1 +/- -1"], ("--voltage", "0 or more")),
    (["--volts", "8.1 +/- 1 ohm"], ("--voltage", "resistance")),
    (["--volts", "8.1 +/- 1 +/- 2"], ("--voltage", "one `+/-`")),
    (["--volts", "8.1", "--meter", "multimetre"], ("multimetre", "did you mean `multimeter`", "clamp-meter")),
    (["--volts", "8.1", "--meter"], ("--meter", "multimeter")),
    (["--volts", "8.1", "--meter", "contact-thermometer"], ("contact-thermometer", "degC", "V, A")),
    (["--volts", "8.1", "--voltage", "8"], ("--voltage", "twice")),
]


@pytest.mark.parametrize(("typed", "says"), BAD, ids=[" ".join(row[0]) for row in BAD])
def test_bad_uncertainty_is_told(typed: list[str], says: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calc", "leak-resistance", "--current", "1", *typed]) == 2
    out, err = capsys.readouterr()
    assert (out, len(err.splitlines())) == ("", 1)
    for word in says:
        assert word in err


def test_a_verdict_tells_what_else_the_reading_could_be(capsys: pytest.CaptureFixture[str]) -> None:
    """The healthy band of state B begins at 8.36 V (SAE J1772, by J1772.h)."""
    sure = answered(capsys, "pilot-state", "--voltage", "8.60 +/- 0.05")
    assert (sure["value"], sure["verdict"]) == ("state B: healthy", None)
    close = answered(capsys, "pilot-state", "--voltage", "8.40 +/- 0.05")
    assert close["value"] == "state B: healthy"
    assert close["verdict"]["could_be"] == ["state B: recognised, not healthy"]


def test_an_absence_of_voltage_needs_the_whole_uncertainty(capsys: pytest.CaptureFixture[str]) -> None:
    """60 V DC and 30 V AC rms: UN Regulation 100, ISO 6469-3. Not sure counts as not safe."""
    assert answered(capsys, "absence", "--volts", "59.0 +/- 0.9")["value"] == "below 60 V DC"
    close = answered(capsys, "absence", "--volts", "-59.0 +/- 1.1")
    assert close["value"] == "HAZARDOUS: not below 60 V DC"
    assert close["verdict"]["could_be"] == ["below 60 V DC"]
    assert answered(capsys, "absence", "--volts", "31", "--supply", "ac")["value"].startswith("HAZARDOUS")
    assert answered(capsys, "absence", "--volts", "OL")["value"].startswith("HAZARDOUS")
    # The car's own limit where it is lower: 25 V on the Marlin.
    assert answered(capsys, "absence", "--volts", "26", "--vehicle", "marlin-1")["value"].startswith("HAZARDOUS")
    assert "qualified" in close["caution"]


def test_a_word_for_a_unit_stands_for_the_only_input_in_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert answered(capsys, "contact-drop", "--amps", "16", "--ohms", "1 m")["value"] == pytest.approx(0.016)
    assert main(["calc", "supply-loop-resistance", "--volts", "230", "--current", "16"]) == 2
    assert "--unloaded or --loaded" in capsys.readouterr().err


def test_an_absence_says_whose_limit_was_taken(capsys: pytest.CaptureFixture[str]) -> None:
    """29.9 V are below the standard's 60 V; a car whose profile says 30 V refuses them with their uncertainty."""
    assert "limit = 60 V (the standard's; a car's profile may ask for less: --vehicle)" in told(
        capsys, "absence", "--volts", "29.9"
    )
    assert "the standard's" not in told(capsys, "absence", "--volts", "0.4", "--vehicle", "petrel-2")
    assert main(["calc", "absence", "--volts", "29.9 +/- 0.9", "--vehicle", "petrel-2"]) == 1


def test_a_platinum_sensor_is_asked_for_as_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calc", "platinum", "--temperature", "20"]) == 2
    said = capsys.readouterr().err
    assert "`platinum r0=100`" in said
    assert "ntc" not in said
