"""Knowledge files as they are read: words stay words, places are exact, what a car differs in is merged."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import KnowledgeError, WrongUse
from diagtree.knowledge.files import load, read_texts
from diagtree.knowledge.library import Library, read_library
from diagtree.knowledge.words import Conclude, HandOver, Power, Refer, Where
from diagtree.knowledge.yaml_text import compose
from tests.walk.knowledge import TEXTS

CATALOGUE = "catalogue/all.yaml"


def changed(file: str, old: str, new: str) -> Library:
    """Return the small folder with one text changed in one file."""
    assert old in TEXTS[file]
    return read_library({**TEXTS, file: TEXTS[file].replace(old, new, 1)})


def said(library: Library) -> list[str]:
    """Return what is wrong, as it is shown."""
    return [str(finding) for finding in library.all_findings()]


def test_words_that_yaml_would_turn_into_something_else_stay_text() -> None:
    """`no`, `yes`, `on`, `off`, times, dates and long numbers are what the author typed."""
    catalogue = read_library(TEXTS).catalogue(None)
    assert catalogue.tests["desk-question"].outcome_ids() == ("yes", "no")
    assert catalogue.tests["desk-question"].healthy == "no"
    for word in ("on", "off", "~", "null", "true", "12:30", "1e6", "0x1F", "2026-11-25", "1_000", "007"):
        name = changed(CATALOGUE, "ask: Is it so?", f"ask: {word}").catalogue(None).tests["desk-question"].ask
        assert name == word


def test_a_test_is_read_with_all_of_its_keys() -> None:
    """A test with a number: needs, units, limits in order, the last outcome open; without `judge` the only reading."""
    test = read_library(TEXTS).catalogue("petrel-9").tests["cover-resistance"]
    assert (test.place, test.minutes, test.attended, test.labour) == (Where.BAY, 6, 3, 3)
    assert (test.needs.power, test.needs.open, test.needs.tools) == (Power.DEAD, ("cover",), ("multimeter",))
    assert test.needs.state == ("The car has rested.",)
    assert [(item.name, item.unit) for item in test.reads] == [("resistance", "ohm")]
    assert [item.below.text if item.below else None for item in test.outcomes] == ["100", "2000", None]
    assert test.judge is not None
    assert test.judge.text == "resistance"
    assert (test.at.file, test.at.line, test.at.column) == (CATALOGUE, 6, 3)


def test_a_tree_is_read_with_its_endings() -> None:
    """A branch is a step, or one of three endings."""
    tree = read_library(TEXTS).tree("first")
    assert tree.causes["contact"] == 40
    assert tree.steps["danger-look"].then == {"yes": Refer("the fire service"), "no": "desk-question"}
    assert tree.steps["cover-resistance"].then["low"] == Conclude("contact")
    assert tree.steps["cover-resistance"].then["high"] == HandOver("second")


def test_what_a_car_differs_in_is_merged_at_every_depth() -> None:
    """Mappings merge, all else replaces; other cars and the catalogue as written stay as they are."""
    more = (
        "differs:\n  access: {cover: {open: 2, after: []}}\n  tests: {cover-resistance: {minutes: 9}}\n"
        "  causes: {contact: {correction: {minutes: 99, parts: [{name: joint, price: 7}]}}}\n"
    )
    name = "vehicles/petrel-9.yaml"
    library = read_library({**TEXTS, name: TEXTS[name] + more})
    assert said(library) == []
    on_car, written = library.catalogue("petrel-9"), library.catalogue(None)
    assert (on_car.access["cover"].open, on_car.access["cover"].after, on_car.access["cover"].close) == (2, (), 8)
    assert (written.access["cover"].open, written.access["cover"].after) == (5, ("seat",))
    assert on_car.tests["cover-resistance"].minutes == 9
    correction = on_car.causes["contact"].correction
    assert correction is not None
    assert (correction.minutes, correction.price, correction.do) == (99, 7, "Replace the inlet.")


def test_a_mistake_in_what_a_car_differs_in_stands_in_its_profile() -> None:
    """The line is the profile's, not the catalogue's."""
    name = "vehicles/petrel-9.yaml"
    more = "differs:\n  access:\n    cover: {opne: 2, after: [seet]}\n"
    found = read_library({**TEXTS, name: TEXTS[name] + more}).all_findings()
    assert {(finding.place.file, finding.place.line) for finding in found} == {(name, 7)}
    messages = " ".join(finding.message for finding in found)
    assert "did you mean `open`" in messages or "`opne`" in messages
    assert "did you mean `seat`" in messages


@pytest.mark.parametrize(
    ("file", "old", "wrong", "meant"),
    [
        (CATALOGUE, "mistake: 5", "mistaek", "did you mean `mistake`?"),
        (CATALOGUE, "cover], tools", "covr", "did you mean `cover`?"),
        (CATALOGUE, "cover-resistance: {low: 90", "cover-resistence", "did you mean `cover-resistance`?"),
        (CATALOGUE, "low: 90", "lo", "did you mean `low`?"),
        (CATALOGUE, "undertray]}", "undertry", "did you mean `undertray`?"),
        (CATALOGUE, "seat], open: 5", "seet", "did you mean `seat`?"),
        (CATALOGUE, "ohm}", "ohmm", "ohmm"),
        (CATALOGUE, "resistance / expected", "resistence", "did you mean `resistance`?"),
        ("first.yaml", "desk-question}", "desk-qestion", "did you mean `desk-question`?"),
        ("first.yaml", "chassis}", "chasis", "did you mean `chassis`?"),
        ("first.yaml", "second}", "secnd", "did you mean `second`?"),
    ],
)
def test_a_message_points_to_the_word_and_names_what_was_meant(file: str, old: str, wrong: str, meant: str) -> None:
    """Line and column are those of the wrong word itself, and the nearest word that exists is offered."""
    word = next(part for part in re.findall(r"[\w-]+", old))
    library = changed(file, old, old.replace(word, wrong, 1))
    rows = library.texts[file].splitlines()
    line = next(number for number, row in enumerate(rows, start=1) if re.search(rf"(?<![\w-]){wrong}(?![\w-])", row))
    place = f"{file}:{line}:{rows[line - 1].index(wrong) + 1} error: "
    lines = said(library)
    assert any(text.startswith(place) and wrong in text and meant in text for text in lines), (place, lines)


def test_everything_that_is_wrong_is_told_at_once() -> None:
    """Mistakes in five files give findings in five files, in one reading."""
    spoilt = {
        **TEXTS,
        "workshop.yaml": TEXTS["workshop.yaml"].replace("rate: 60", "rate: sixty"),
        "vehicles/petrel-9.yaml": TEXTS["vehicles/petrel-9.yaml"] + "differs: 3\n",
        CATALOGUE: TEXTS[CATALOGUE].replace("minutes: 15", "minutes: 1,5"),
        "first.yaml": TEXTS["first.yaml"].replace("start: danger-look", "start: nowhere"),
        "second.yaml": TEXTS["second.yaml"].replace("contact: 50", "contatc: 50"),
    }
    assert {finding.place.file for finding in read_library(spoilt).all_findings()} == set(TEXTS)


def test_only_what_a_job_rests_on_stops_it() -> None:
    """A mistake in another tree does not stop this one; a mistake in the catalogue does."""
    changed("second.yaml", "start: desk-question", "start: nowhere").require("first", "petrel-9")
    with pytest.raises(KnowledgeError) as raised:
        changed(CATALOGUE, "minutes: 15", "minutes: soon").require("first", "petrel-9")
    assert "`soon`" in str(raised.value.findings[0])


def test_an_unknown_tree_or_vehicle_is_named_with_its_neighbours() -> None:
    """The nearest name is offered, and all that there are."""
    library = read_library(TEXTS)
    with pytest.raises(WrongUse, match="did you mean `first`"):
        library.tree("frist")
    with pytest.raises(WrongUse, match="did you mean `petrel-9`"):
        library.require("first", "petrl-9")


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_byte_order_marks_change_nothing(ending: str, mark: str) -> None:
    """Files saved by any editor read alike."""
    texts = {name: mark + text.replace("\n", ending) for name, text in TEXTS.items()}
    library = read_library(texts)
    assert said(library) == []
    assert library.catalogue(None).tests["sensor-ratio"].at.line == 18


def test_the_digest_tells_every_change() -> None:
    """One character anywhere, or another name of a file, gives another digest; the order of files does not."""
    digest = read_library(TEXTS).digest
    assert read_library(dict(reversed(TEXTS.items()))).digest == digest
    assert changed(CATALOGUE, "minutes: 15", "minutes: 16").digest != digest
    assert read_library({**TEXTS, "third.yaml": TEXTS["second.yaml"]}).digest != digest


def test_no_text_runs_code_or_grows_without_bound() -> None:
    """Tags that would make objects are told; ten levels of aliases stay ten lines."""
    bomb = "a0: &a0 [x]\n" + "".join(f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]\n" for n in range(1, 30))
    _, found = compose(bomb, "a.yaml")
    assert found
    assert all(finding.rule in ("alias", "anchor") for finding in found)
    _, found = compose("a: !!python/object/apply:os.system [exit]", "a.yaml")
    assert [finding.rule for finding in found] == ["tag"]
    deep = "[" * 5000 + "]" * 5000
    _, found = compose(f"a: {deep}", "a.yaml")
    assert [finding.rule for finding in found] == ["nested-too-deep"] or "nested" in found[0].message


@settings(deadline=None, max_examples=150)
@given(st.sampled_from(sorted(TEXTS)), st.text(max_size=60), st.integers(0, 3000), st.integers(0, 40))
def test_no_text_whatever_raises(file: str, new: str, at: int, gone: int) -> None:
    """Any characters put anywhere: findings, never an exception, and each names a file that exists."""
    text = TEXTS[file]
    at %= len(text)
    texts = {**TEXTS, file: text[:at] + new + text[at + gone :]}
    for finding in read_library(texts).all_findings():
        assert finding.place.file in texts
        assert finding.place.line >= 1
        assert len(finding.message) > 10


def test_a_folder_is_read_with_its_subfolders(tmp_path: Path) -> None:
    """Trees, catalogue at any depth, vehicles; hidden files and other endings are left alone."""
    wanted = ("a.yaml", "catalogue/x/y/b.yaml", "vehicles/c.yaml")
    for name in (*wanted, ".hidden.yaml", "catalogue/.d.yaml", "e.yml", "f.txt"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("tree: a\n", encoding="utf-8")
    assert tuple(sorted(read_texts(tmp_path))) == wanted


def test_a_folder_that_holds_nothing_is_refused(tmp_path: Path) -> None:
    """The message names the folder and what belongs there."""
    with pytest.raises(WrongUse, match="holds no"):
        read_texts(tmp_path)
    with pytest.raises(WrongUse, match="is no folder"):
        read_texts(tmp_path / "gone")


def test_a_folder_without_vehicles_procedures_and_workshop_is_complete() -> None:
    """They are needed only when something refers to them."""
    catalogue = (
        "tests:\n  look: {ask: So?, place: reception, minutes: 1, outcomes: [yes, no], healthy: no, source: practice}\n"
        "causes:\n  fuse: {name: fuse, shows: {look: {yes: 90, no: 10}}, advise: {do: Fit one., minutes: 1}}\n"
    )
    tree = (
        "diagtree: 1\ntree: a\ntitle: A\ncauses: {fuse: 1}\nstart: look\n"
        "steps:\n  look: {then: {yes: {conclude: fuse}, no: {refer: somebody}}}\n"
    )
    library = read_library({"catalogue/c.yaml": catalogue, "a.yaml": tree})
    assert said(library) == []
    library.require("a", None)


def test_what_ships_has_no_mistake() -> None:
    """The shipped folder, on the catalogue as written and on every vehicle."""
    assert said(load()) == []


def test_a_sentence_that_its_comma_cut_in_two_is_warned_of() -> None:
    """A flow list takes an unquoted comma for the end of an entry: the technician would read half a caution."""
    text = """\
access:
  bench: {name: bench, open: 1, close: 1, mind: [Release the catch, pull the housing.]}
  tray: {name: tray, open: 1, close: 1, mind: ["Release the catch, pull the housing.", Gloves on.]}
"""
    told = read_library({"catalogue/a.yaml": text}).all_findings()
    assert [(finding.rule, finding.place.line, finding.place.column) for finding in told] == [("cut-at-comma", 2, 69)]


def test_a_pole_that_is_not_measured_to_chassis_is_warned_of() -> None:
    """The proof of absence takes all pairs of poles and each pole to chassis; a pair left out may be live unseen."""
    whole = "[DC+ and DC-, DC+ and chassis, DC- and chassis]"
    texts = {"catalogue/all.yaml": TEXTS["catalogue/all.yaml"].replace(whole, "[DC+ and DC-, DC+ and chassis]")}
    assert texts["catalogue/all.yaml"] != TEXTS["catalogue/all.yaml"]
    told = [str(one) for one in read_library(texts).all_findings() if one.rule == "absence-pairs-missing"]
    assert len(told) == 1
    assert "between DC- and chassis" in told[0]
    assert not [one for one in read_library(TEXTS).all_findings() if one.rule == "absence-pairs-missing"]
    alone = {"catalogue/all.yaml": TEXTS["catalogue/all.yaml"].replace(whole, "[DC+ and DC-]")}
    (only,) = [one.message for one in read_library(alone).all_findings() if one.rule == "absence-pairs-missing"]
    assert "DC+ and chassis; DC- and chassis" in only
