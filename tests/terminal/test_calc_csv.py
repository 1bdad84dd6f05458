"""Many readings from a file: every row answered, every bad cell told, and the results as table, JSON and CSV."""

from __future__ import annotations

import csv
import io
import json
import sys
from pathlib import Path
from typing import Any

import pytest

from diagtree.report.quantities_page import CAUTIONS
from diagtree.terminal.main import main
from tests.published.sensor_tables import B57330, PT100

PLATINUM = ["platinum", "--sensor", "platinum", "r0=100"]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "readings.csv"


def rows(capsys: pytest.CaptureFixture[str], *typed: str) -> Any:
    assert main(["calc", *typed, "--json"]) == 0
    return json.loads(capsys.readouterr().out)["rows"]


def test_the_printed_table_of_a_pt100_comes_out_row_by_row(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Pt100, IEC 751, as the reference page of sensorsci.com prints it."""
    file.write_text("temperature\n" + "".join(f"{degrees}\n" for degrees in PT100))
    found = rows(capsys, *PLATINUM, "--csv", str(file))
    assert [row["line"] for row in found] == list(range(2, len(PT100) + 2))
    for row, (degrees, ohms) in zip(found, PT100.items(), strict=True):
        assert row["inputs"]["temperature"] == degrees
        assert row["value"] == pytest.approx(ohms, abs=0.006)


@pytest.mark.parametrize("mark", [";", "\t"])
def test_decimal_commas_and_units_in_the_header(mark: str, file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Thermistor table B57330V2103 of the Linux kernel's ntc_thermistor.c, in kilo-ohms with decimal commas."""
    lines = [mark.join(("resistance [kohm]", "note"))]
    lines += [mark.join((f"{ohms / 1000}".replace(".", ","), "bench")) for ohms in B57330.values()]
    file.write_text("\n".join(lines), encoding="utf-8-sig")
    table = " ".join(f"{degrees:g}:{ohms:g}" for degrees, ohms in B57330.items())
    found = rows(capsys, "ntc-temperature", "--sensor", f"ntc {table}", "--csv", str(file))
    assert [row["value"] for row in found] == pytest.approx(list(B57330), abs=1e-6)
    assert {row["notes"]["note"] for row in found} == {"bench"}


def test_a_cells_own_unit_goes_before_the_headers(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file.write_text("resistance [kohm],note\n10,a\n10000 ohm,b\n10 k,c\n0.01 Mohm +/- 1 k,d\n10 +/- 1,e\n")
    found = rows(capsys, "ntc-temperature", "--sensor", "ntc r25=10000 beta=3435", "--csv", str(file))
    assert [row["value"] for row in found] == pytest.approx([25.0] * 5)
    assert [row["uncertainties"].get("resistance") for row in found] == [None, None, None, 1000.0, 1000.0]


def test_standard_input_and_readings_with_limits(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    text = "state;reading\nB;8,97 +/- 0,05\n# a remark\n\nC;6,60 +/- 0,05\n"
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode())))
    found = rows(capsys, "pilot", "--csv", "-")
    assert [row["line"] for row in found] == [2, 5]
    assert [row["limits"][0]["stands"] for row in found] == ["inside", "outside"]
    assert [row["verdict"]["says"] for row in found] == ["state B: healthy", "state C: recognised, not healthy"]


def test_the_other_way_by_rows(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nodal analysis of the circuit of IEC 61851-1 Annex A: 300 ohm lift state C to 6.821 V, 378.3 ohm to 7.0 V."""
    file.write_text("value [V],state\n6.821,C\n7.0,C\n")
    found = rows(capsys, "pilot", "--solve", "series", "--csv", str(file))
    assert [row["value"] for row in found] == pytest.approx([300.0, 378.3], abs=0.5)


def test_table_and_csv_are_headed_by_the_caution(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file.write_text("state,note\nA,one\nB,two\n")
    assert main(["calc", "pilot", "--csv", str(file)]) == 0
    out = capsys.readouterr().out.splitlines()
    assert out[0] == f"CAUTION: {CAUTIONS['live']}"
    assert out[1].split() == ["line", "state", "pilot-voltage", "stands", "note"]
    assert len([line for line in out if line[:1].isdigit()]) == 2
    assert main(["calc", "pilot", "--csv", str(file), "--csv-out", "-"]) == 0
    head, *rest = capsys.readouterr().out.splitlines()
    assert head == f"# CAUTION: {CAUTIONS['live']}"
    read = list(csv.DictReader(rest))
    assert [row["value [V]"] for row in read] == ["12.0", pytest.approx(read[1]["value [V]"])]
    assert [(row["line"], row["state"], row["note"]) for row in read] == [("2", "A", "one"), ("3", "B", "two")]
    assert all("SAE J1772" in row["source"] for row in read)


def test_what_was_written_is_read_again(file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file.write_text("current [A];resistance [mohm]\n16;0,5\n32;1,5\n")
    out = tmp_path / "results.csv"
    assert main(["calc", "contact-drop", "--csv", str(file), "--csv-out", str(out)]) == 0
    assert "2 rows" in capsys.readouterr().err
    with out.open(newline="") as stream:
        read = list(csv.DictReader(line for line in stream if not line.startswith("#")))
    assert [float(row["value [V]"]) for row in read] == pytest.approx([0.008, 0.048])
    assert main(["calc", "contact-drop", "--csv", str(file), "--csv-out", str(out)]) == 2
    assert "--overwrite" in capsys.readouterr().err
    assert main(["calc", "contact-drop", "--csv", str(file), "--csv-out", str(out), "--overwrite"]) == 0


BAD_CELLS = [
    ("temperature\nabc\n", ":2, column 1 (temperature)", "`abc` is not a reading"),
    ("temperature\n18\n-300\n", ":3, column 1 (temperature)", "below absolute zero"),
    ("temperature;note\n1,2,3;a\n", ":2, column 1 (temperature)", "2 decimal marks"),
    ("temperature;note\nnan;a\n", ":2, column 1 (temperature)", "-200 to 850 degC"),
    ("temperature [degC]\n5 V\n", ":2, column 1 (temperature [degC])", "voltage"),
    ("note,temperature\na,18,5\n", ":2", "decimal commas need semicolons"),
    ("note,temperature\na\n", ":2", "are cells missing"),
    ("note,temperature\na,\n", ":2", "--temperature"),
]


@pytest.mark.parametrize(("text", "place", "says"), BAD_CELLS)
def test_a_bad_cell_is_told_with_file_line_and_column(
    text: str, place: str, says: str, file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(text)
    assert main(["calc", *PLATINUM, "--csv", str(file)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert f"{file}{place}" in err
    assert says in err


def test_every_bad_row_is_told_at_once(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file.write_text("temperature\n1\nx\n2\ny\nz\n")
    assert main(["calc", *PLATINUM, "--csv", str(file)]) == 2
    err = capsys.readouterr().err
    assert [f"{file}:{line}," in err for line in (2, 3, 4, 5, 6)] == [False, True, False, True, True]
    assert "3 rows cannot be computed" in err


BAD_FILES = [
    ("", "is empty"),
    ("temperature\n", "no rows"),
    ("temprature\n1\n", "did you mean `temperature`"),
    ("temperature,temperature\n1,2\n", "twice"),
    ("temperature,sensor\n1,ntc\n", "command line too"),
    ("temperature [ohm]\n1\n", "resistance"),
    ("temperature [furlong]\n1\n", "furlong"),
    ("temperature [degC\n1\n", "open bracket"),
    ("temperature,\n1,2\n", "has no name"),
    ("note\n1\n", "no column names an input"),
    ('temperature\n"1\n', "no row of a CSV file"),
]


@pytest.mark.parametrize(("text", "says"), BAD_FILES)
def test_a_bad_file_is_told_in_one_line(text: str, says: str, file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file.write_text(text)
    assert main(["calc", *PLATINUM, "--csv", str(file)]) == 2
    out, err = capsys.readouterr()
    assert (out, len(err.splitlines())) == ("", 1)
    assert says in err


def test_files_that_are_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for path, says in ((tmp_path, "cannot be read"), (tmp_path / "no.csv", "No such file")):
        assert main(["calc", *PLATINUM, "--csv", str(path)]) == 2
        assert says in capsys.readouterr().err
    assert main(["calc", *PLATINUM, "--csv"]) == 2
    assert "name the file" in capsys.readouterr().err
