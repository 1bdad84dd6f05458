"""A catalogue read piece by piece is the one that is read whole, or it is not used."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagtree.errors import DiagtreeError
from diagtree.knowledge import catalogue_pieces
from diagtree.knowledge.catalogue_pieces import alike
from diagtree.knowledge.files import read_texts, shipped_folder
from diagtree.knowledge.library import Library, read_library, read_sound
from diagtree.terminal import check_cache, quick_knowledge
from diagtree.terminal.quick_knowledge import library_for
from tests.knowledge.mutations import WAYS, Way
from tests.knowledge.test_malformed import plant
from tests.walk.knowledge import TEXTS

SHIPPED = read_texts(shipped_folder())
CARS = [None, *(Path(name).stem for name in SHIPPED if name.startswith("vehicles/"))]


@pytest.mark.parametrize("car", CARS)
def test_the_shipped_catalogue_is_the_same_piece_by_piece(car: str | None) -> None:
    quick, whole = read_sound(SHIPPED), read_library(SHIPPED)
    assert alike(quick.catalogue(car), whole.catalogue(car))
    assert whole.sound_on(car)


def test_a_walk_composes_some_of_the_entries_only(monkeypatch: pytest.MonkeyPatch) -> None:
    read = []
    compose = catalogue_pieces.compose
    monkeypatch.setattr(catalogue_pieces, "compose", lambda text, file: (read.append(file), compose(text, file))[1])
    library = read_sound(SHIPPED)
    tree, catalogue = library.require("plug-stuck", "petrel-2")
    assert 0 < len(read) <= len({step.test for step in tree.steps.values()})
    assert len(catalogue.tests) > len(read)


ODD = {
    "a flow mapping": "tests: {a: {ask: x}}\n",
    "deeper indentation": "tests:\n    a:\n        ask: x\n",
    "a quoted name": 'tests:\n  "a": {ask: x}\n',
    "a block that looks like an entry": "tests:\n  a:\n    ask: |\n      x\n  b: {ask: y}\n",
    "a section at the end": "tests:\n  a: {ask: x}\naccess:\n",
    "two sections of one name": "tests:\n  a: {ask: x}\ntests:\n  b: {ask: y}\n",
}


@pytest.mark.parametrize("text", ODD.values(), ids=ODD.keys())
def test_where_pieces_would_be_otherwise_it_is_seen(text: str) -> None:
    """Either the same words come out, or `alike` says that they do not; nothing is raised."""
    files = {**TEXTS, "catalogue/odd.yaml": text}
    quick, whole = read_sound(files).catalogue(None), read_library(files).catalogue(None)
    same = all(
        dict(getattr(whole, part)) == {name: getattr(quick, part).get(name) for name in getattr(whole, part)}
        and [*getattr(quick, part)] == [*getattr(whole, part)]
        for part in ("tests", "causes", "access", "procedures")
    )
    assert alike(quick, whole) == same


def folder(at: Path, texts: dict[str, str]) -> str:
    for name, text in texts.items():
        (at / name).parent.mkdir(parents=True, exist_ok=True)
        (at / name).write_text(text, encoding="utf-8", newline="")
    return str(at)


@pytest.fixture
def whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return a list that grows where a folder is read whole; what is kept lies in an empty folder."""
    found: list[str] = []

    def read(texts: dict[str, str], name: str) -> Library:
        found.append(name)
        return read_library(texts, name)

    monkeypatch.setattr(check_cache, "cache_folder", lambda: tmp_path / "cache" / "check")
    monkeypatch.setattr(quick_knowledge, "read_library", read)
    return found


def test_it_is_read_whole_once_and_again_after_any_change(tmp_path: Path, whole: list[str]) -> None:
    trees = folder(tmp_path / "trees", dict(SHIPPED))
    for _ in range(3):
        library_for(trees, "petrel-2").require("plug-stuck", "petrel-2")
    assert len(whole) == 1
    library_for(trees, "marlin-1")
    assert len(whole) == 2, "sound on one car is not sound on another"
    file = tmp_path / "trees" / "catalogue" / "access.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "# a remark\n", encoding="utf-8")
    library_for(trees, "petrel-2")
    assert len(whole) == 3


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
def test_what_stops_a_walk_stops_it_every_time(way: Way, tmp_path: Path, whole: list[str]) -> None:
    """A spoilt folder is refused by the same findings, however often it is asked for."""
    name, planted = plant("small", way, 1)
    texts = {**TEXTS, name: planted.text}
    trees = folder(tmp_path / "trees", texts)
    car = next((name for name in read_library(texts).profiles), None)

    def said(library: Library) -> list[str]:
        try:
            library.require("first", car)
        except DiagtreeError as error:
            return [f"{one.rule} {one.place.line}" for one in getattr(error, "findings", ())] or [str(error)[:20]]
        return []

    first, *again = [said(library_for(trees, car)) for _ in range(3)]
    assert first == said(read_library(texts))
    assert again == [first, first]
