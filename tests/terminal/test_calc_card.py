"""The bench card of a car: its limits against published numbers, its formats, and one printed page."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from diagtree.report.bench_card import bench_card
from diagtree.report.card import formats
from diagtree.terminal.main import main
from diagtree.terminal.setting import Setting

CARS = ("petrel-2", "marlin-1")
PAGES = 2 * 88  # lines: the catalogue has more numbers to look up than one page holds
"""Lines of an A4 page at eight lines an inch, with margins."""


def card(capsys: pytest.CaptureFixture[str], *typed: str) -> str:
    assert main(["calc", "card", *typed]) == 0
    return capsys.readouterr().out


def table(capsys: pytest.CaptureFixture[str], car: str, name: str) -> dict[str, list[str]]:
    """Return the rows of one table by their first cell."""
    found: Any = json.loads(card(capsys, car, "--json"))
    (one,) = [one for one in found["tables"] if one["id"] == name]
    return {row[0]: row[1:] for row in one["rows"]}


def test_a_pt1000_reads_what_iec_60751_prints(capsys: pytest.CaptureFixture[str]) -> None:
    """Ten times the Pt100 rows of IEC 60751 as sensorsci.com prints them; four digits are shown."""
    printed = {"-20": "921.6", "-10": "960.9", "0": "1000", "10": "1039", "20": "1078", "30": "1117", "40": "1155"}
    found = table(capsys, "marlin-1", "sensors")
    assert {degrees: row[0] for degrees, row in found.items()} == printed


def test_the_ntc_follows_its_beta_and_the_tests_band(capsys: pytest.CaptureFixture[str]) -> None:
    """Thermistor B57330V2103 (R25 10 k, beta 3435 K near): within 2 % of its printed rows from 0 to 40 degC."""
    found = table(capsys, "petrel-2", "sensors")
    for degrees, ohms in {"0": 27326, "10": 17973, "20": 12090, "30": 8311, "40": 5825}.items():
        assert float(found[degrees][0]) == pytest.approx(ohms, rel=0.055 if degrees == "0" else 0.03)
        low, high = map(float, found[degrees][1].split(" to "))
        assert low == pytest.approx(0.85 * float(found[degrees][0]), rel=1e-3)
        assert high == pytest.approx(1.18 * float(found[degrees][0]), rel=1e-3)


def test_pilot_proximity_and_high_voltage_are_the_standards(capsys: pytest.CaptureFixture[str]) -> None:
    pilot = table(capsys, "petrel-2", "pilot")
    assert pilot["B plugged in"] == ["8.98 V", "8.36 to 9.56 V", "8 to 10 V"]
    assert pilot["C charging"] == ["5.99 V", "5.48 to 6.49 V", "5 to 7 V"]
    # A CCS2 car's pin: 1.945 V at 220 ohm, 4.672 V empty (user manual of a vehicle charge controller, p. 219).
    plugs = table(capsys, "petrel-2", "proximity")
    assert plugs["plug of 220 ohm"] == ["164 to 308 ohm", "32 A", "1.95 V"]
    assert plugs["plug of 100 ohm"][1] == "70 A", "one phase; 63 A on three"
    assert plugs["nothing plugged in"][2] == "4.67 V"
    assert table(capsys, "marlin-1", "proximity")["plug of 100 ohm"][1] == "63 A"
    # UN Regulation 100: 100 and 500 ohm/V of 352 V; the profile's absence limit is lower than 60 V.
    limits = table(capsys, "petrel-2", "high-voltage")
    assert limits["insulation, DC bus by itself, 352 V"] == ["at least 35200 ohm"]
    assert limits["insulation, DC and AC connected"] == ["at least 176 kohm"]
    assert limits["absence of voltage, DC"][0].startswith("below 30 V")
    assert limits["wait after disconnecting"] == ["5 min, then measure"]
    power = table(capsys, "marlin-1", "power")
    assert power["nominal, 230 V"] == ["3.68 kW", "11 kW"]
    assert power["lowest, 207 V"] == ["3.31 kW", "9.94 kW"]


def test_what_the_maker_did_not_tell_is_asked_for_and_never_guessed(capsys: pytest.CaptureFixture[str]) -> None:
    petrel, marlin = card(capsys, "petrel-2"), card(capsys, "marlin-1")
    assert "inlet.dc_sensor: unknown: ask the maker" in petrel
    assert "inlet.proximity.pull_down: unknown: ask the maker" in marlin
    assert "derates above: unknown: ask the maker" in marlin
    assert {cells[-1] for cells in table(capsys, "marlin-1", "proximity").values()} == {"unknown"}


@pytest.mark.parametrize("one", formats(), ids=lambda one: one.id)
@pytest.mark.parametrize("car", CARS)
def test_every_format_is_headed_by_the_cautions_and_ends_with_the_sources(
    car: str, one: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    text = " ".join(re.sub(r"[*>!]", " ", card(capsys, car, "--format", one.id).replace("\\", "")).split())
    caution, limits, source = (text.index(word) for word in ("qualified persons only", "8.36 to 9.56", "UN Regulation"))
    assert caution < limits < source
    assert text.index("never says that a car is safe") < limits


@pytest.mark.parametrize("car", CARS)
def test_the_text_is_two_pages_of_80_columns(car: str, capsys: pytest.CaptureFixture[str]) -> None:
    lines = card(capsys, car).splitlines()
    assert max(map(len, lines)) <= 80
    assert len(lines) <= PAGES
    assert all(line.isascii() for line in lines)


class Links(HTMLParser):
    """Collects what a page would load, and its tags' balance."""

    def __init__(self) -> None:
        super().__init__()
        self.loads: list[str] = []
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.loads += [str(value) for name, value in attrs if name in ("src", "href", "data")]
        if tag not in ("meta", "br", "img", "link"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_the_html_loads_nothing_and_closes_what_it_opens(capsys: pytest.CaptureFixture[str]) -> None:
    page = card(capsys, "marlin-1", "--format", "html")
    reader = Links()
    reader.feed(page)
    assert (reader.loads, reader.open) == ([], [])
    assert "http" not in page
    assert "<script" not in page
    assert "@import" not in page


@pytest.mark.parametrize("car", CARS)
def test_the_html_prints_on_one_sheet(car: str, tmp_path: Path) -> None:
    browser, info = shutil.which("chromium"), shutil.which("pdfinfo")
    if browser is None or info is None:
        pytest.skip("needs chromium and pdfinfo")
    page, pdf = tmp_path / "card.html", tmp_path / "card.pdf"
    assert main(["calc", "card", car, "--out", str(page)]) == 0
    subprocess.run(
        [browser, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={tmp_path}/profile",
         f"--print-to-pdf={pdf}", str(page)],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    told = subprocess.run([info, str(pdf)], check=True, capture_output=True, text=True).stdout
    assert re.search(r"Pages:\s+[12]\n", told), told
    assert "A4" in told


def test_what_a_profile_says_becomes_no_markup(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    vehicles = tmp_path / "vehicles"
    vehicles.mkdir()
    (vehicles / "odd.yaml").write_text(
        "vehicle: odd\nname: '<b>Odd</b> | *car*'\ninlet: {ac_sensor: {kind: ntc, r25: -5, beta: 3435}, hot_sensor: "
        "{kind: ptc, normal_low: 100, normal_high: 500}}\ncharger: {phases: 7, current: 16}\nbattery: {nominal: 5000}\n"
    )
    for one in formats():
        assert main(["--trees", str(tmp_path), "calc", "card", "odd", "--format", one.id]) == 0
        out = capsys.readouterr().out
        assert ("<b>" in out) is (one.id == "text")
        assert "cannot be computed" in out
    assert "| *car*" not in out or one.id == "text"


def test_a_car_without_facts_has_a_card_all_the_same(tmp_path: Path) -> None:
    vehicles = tmp_path / "vehicles"
    vehicles.mkdir()
    (vehicles / "bare.yaml").write_text("vehicle: bare\nname: Bare\n")
    library = Setting(trees=str(tmp_path)).library()
    found = bench_card(library.vehicle("bare"), library.catalogue("bare"))
    assert {one.id for one in found.tables} == {"sensors", "pilot", "proximity", "high-voltage", "power", "low-voltage"}
    text = json.dumps([one.rows + one.notes for one in found.tables])
    assert text.count("unknown: ask the maker") >= 5


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ([], ("calc card VEHICLE", "marlin-1, marlin-2, petrel-1, petrel-2")),
        (["petrel"], ("petrel", "did you mean `petrel-1` or `petrel-2`")),
        (["petrel-2", "--format", "pdf"], ("pdf", "html, markdown, text")),
        (["petrel-2", "--fromat", "html"], ("--fromat", "--format")),
        (["petrel-2", "--out"], ("--out",)),
        (["petrel-2", "--json", "--out", "x.html"], ("--json",)),
        (["petrel-2", "extra"], ("`extra` stands alone",)),
        (["petrel-2", "--overwrite", "x"], ("--overwrite", "x")),
    ],
)
def test_bad_asking_is_told(typed: list[str], says: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calc", "card", *typed]) == 2
    out, err = capsys.readouterr()
    assert (out, len(err.splitlines())) == ("", 1)
    for word in says:
        assert word in err


def test_a_file_is_written_in_the_format_of_its_name_and_never_replaced_unasked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "card.md"
    assert main(["calc", "card", "petrel-2", "--out", str(path)]) == 0
    assert path.read_text().startswith("# Bench card: Petrel")
    assert main(["calc", "card", "petrel-2", "--out", str(path)]) == 2
    assert "--overwrite" in capsys.readouterr().err
