"""What stands in for inputs that were left out is told; counts are whole; OL is told in words; a screen wraps."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from diagtree.physics.quantity import Input
from diagtree.physics.ranges import range_words
from diagtree.terminal import calc_csv, calc_defect
from diagtree.terminal.calc_given import given
from diagtree.terminal.commands.calc import named
from diagtree.terminal.main import main


def told(capsys: pytest.CaptureFixture[str], *typed: str) -> str:
    """Return what `calc` prints for a person."""
    status = main(["calc", *typed])
    text = capsys.readouterr().out
    assert status == (": HAZARDOUS" in text)
    return text


def test_standard_values_are_told_beside_the_inputs(capsys: pytest.CaptureFixture[str]) -> None:
    """The pin's voltage holds for one car's circuit: without a car the result says which."""
    text = told(capsys, "proximity", "--plug", "220", "--supply", "5")
    assert "  with     plug = 220 ohm, supply = 5 V\n" in text
    assert "  assumed  pull_down = 4700 ohm, pull_up = 330 ohm\n" in text
    assert main(["calc", "proximity", "--plug", "220", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["assumed"] == {"pull_down": 4700.0, "pull_up": 330.0, "supply": 5.0}


def test_a_car_leaves_nothing_to_assume(capsys: pytest.CaptureFixture[str]) -> None:
    """The profile's circuit stands among the inputs."""
    assert "assumed" not in told(capsys, "proximity", "--plug", "220", "--vehicle", "petrel-2")


def test_what_is_solved_for_is_not_assumed(capsys: pytest.CaptureFixture[str]) -> None:
    """The series resistance is the answer, not the standard value 0."""
    text = told(capsys, "pilot", "--solve", "series", "--value", "6.8", "--state", "C")
    (line,) = [line for line in text.splitlines() if line.startswith("  assumed")]
    assert "series" not in line
    assert "end = station" in line


@pytest.mark.parametrize(
    "typed",
    [
        ("power", "--voltage", "230", "--current", "16", "--phases", "2.5"),
        ("phase-loss-power", "--voltage", "230", "--current", "16", "--lost", "1.5"),
        ("interlock-resistance", "--connectors", "3.5"),
        ("proximity-current", "--resistance", "100", "--phases", "1.5"),
    ],
)
def test_counts_are_whole(typed: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody has two and a half phases."""
    assert main(["calc", *typed]) == 2
    assert f"`{typed[-2][2:]}` = {typed[-1]} is no whole number" in capsys.readouterr().err


@pytest.mark.parametrize(
    "typed", [("pilot", "--state", "C", "--volts", "OL"), ("absence", "--volts", "OL")], ids=["reading", "input"]
)
def test_a_voltage_above_the_range_is_told_in_words(typed: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """The meter shows OL and not infinity."""
    text = told(capsys, *typed)
    assert "OL, above the meter's range" in text
    assert "infinity V" not in text


@pytest.mark.parametrize(
    ("typed", "exact"),
    [
        (("absence", "--volts", "0.4"), True),
        (("absence", "--volts", "0.4", "--meter", "hv-voltage-tester"), False),
        (("absence", "--volts", "0.4 +/- 0.1"), False),
        (("absence", "--volts", "80"), False),
        (("insulation", "--voltage", "400", "--ohms", "45 k"), True),
        (("insulation", "--voltage", "400", "--ohms", "45 k", "--meter", "insulation-tester"), False),
        (("insulation", "--voltage", "400", "--ohms", "35 k"), False),
        (("pilot", "--state", "C", "--volts", "6.1"), False),
    ],
)
def test_safety_met_without_an_uncertainty_says_so(
    typed: tuple[str, ...], exact: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    """A safety limit needs the whole uncertainty on the safe side; where none was given, that is told."""
    assert ("taken as exact: name the meter" in told(capsys, *typed)) is exact


def test_the_p_value_is_not_called_a_chance(capsys: pytest.CaptureFixture[str]) -> None:
    """`99 %` beside an explanation that fits well is not how sure it is; the line below says what it is."""
    text = told(capsys, "defect", "pilot", "--station-end", "A=12", "C=6.8", "--vehicle-end", "C=5.3")
    assert "rank  misfit  p-value  explanation" in text
    assert "not the chance that this one is right" in text


def test_a_range_without_end_is_not_at_most_infinity() -> None:
    """An input without a lower bound that takes infinity takes any number."""
    assert range_words(Input("reading", "V", "level", high=float("inf"))) == "any number of V (or infinity)"


class Screen:
    """A setting that keeps what is printed. columns : of its screen, None where it is a pipe."""

    def __init__(self, columns: int | None) -> None:
        self.columns = columns
        self.said: list[str] = []

    def say(self, line: str) -> None:
        """Keep a line."""
        self.said.append(line)


@pytest.mark.parametrize("command", ["defect", "csv"])
def test_lines_wrap_between_words(command: str, tmp_path: Path) -> None:
    """A narrow screen shows the same words as a pipe, none of them broken, and no line but a table's is too long."""
    file = tmp_path / "readings.csv"
    file.write_text("state\nB\nC\n")

    def printed(columns: int | None) -> list[str]:
        screen: Any = Screen(columns)
        if command == "defect":
            calc_defect.run(screen, ["pilot", "--station-end", "A=12", "C=6.8", "--vehicle-end", "C=5.3"], False)
        else:
            calc_csv.run(given(screen, named("pilot"), ["--csv", str(file)]), False)
        return list(screen.said)

    narrow, wide = printed(60), printed(None)
    assert max(map(len, wide)) > 100
    assert " ".join(narrow).split() == " ".join(wide).split()
    assert [line for line in narrow if len(line) > 60] == []
