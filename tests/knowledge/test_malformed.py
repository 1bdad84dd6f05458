"""1,000 spoilt knowledge folders: each mistake is told with its file, its line and the word that is wrong."""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from random import Random

import pytest

from diagtree.errors import KnowledgeError
from diagtree.knowledge.files import load, read_texts
from diagtree.knowledge.library import read_library
from diagtree.knowledge.place import Finding
from tests.knowledge.mutations import WAYS, Planted, Site, Way, sites
from tests.walk.knowledge import TEXTS

SMALL_EACH, SHIPPED_EACH = 63, 4
FULL = os.environ.get("DIAGTREE_BENCH") == "full"
BLANKET = ("something went wrong", "invalid file", "cannot be read as YAML", "could not parse")


@cache
def folders() -> Mapping[str, Mapping[str, str]]:
    """Return the folders that are spoilt: a small one with every trap, and the one that ships."""
    return {"small": TEXTS, "shipped": load().texts}


@cache
def all_sites(folder: str) -> tuple[tuple[str, Site], ...]:
    """Return every place of a folder where a mistake can be planted, with its file."""
    return tuple((name, site) for name, text in folders()[folder].items() for site in sites(text))


def plant(folder: str, way: Way, seed: int) -> tuple[str, Planted]:
    """Return the file and the mistake that `way` plants at a random place."""
    random = Random(f"{way.__name__} {seed}")
    places = all_sites(folder)
    for index in random.sample(range(len(places)), len(places)):
        name, site = places[index]
        planted = way(folders()[folder][name], site, random)
        if planted is not None:
            return name, planted
    raise AssertionError(f"{way.__name__} fits nowhere in {folder}")


def around(folder: str, name: str, seed: int) -> dict[str, str]:
    """Return the files that `name` is read with: of the other trees that ship only one, unless time is plenty."""
    texts = dict(folders()[folder])
    trees = sorted(one for one in texts if "/" not in one and one != "workshop.yaml")
    if folder != "shipped" or FULL:
        return texts
    kept = {name, trees[seed % len(trees)]}
    return {one: text for one, text in texts.items() if one not in trees or one in kept}


def missed(folder: str, way: Way, seed: int) -> str | None:
    """Plant a mistake and return why what is said about it would not help its author; None where it would."""
    name, planted = plant(folder, way, seed)
    found = read_library({**around(folder, name, seed), name: planted.text}).all_findings()
    if any(tells(finding, name, planted) for finding in found):
        return None
    said = "\n  ".join(str(finding) for finding in found[:4]) or "nothing"
    row = planted.text.splitlines()[planted.line - 1 : planted.line]
    return f"{way.__name__} at {name}:{planted.line} {planted.words} {row}\n  {said}"


def tells(finding: Finding, name: str, planted: Planted) -> bool:
    """Whether a finding names the file, the line and the word, and is no blanket complaint."""
    right_place = finding.place.file == name and finding.place.line == planted.line
    named = any(word in finding.message for word in planted.words)
    return right_place and named and not any(words in finding.message for words in BLANKET)


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
@pytest.mark.parametrize(("folder", "count"), [("small", SMALL_EACH), ("shipped", SHIPPED_EACH)])
def test_each_planted_mistake_is_told(way: Way, folder: str, count: int) -> None:
    """File, line and offending word are named, whatever else the mistake breaks."""
    unhelpful = [why for seed in range(count) if (why := missed(folder, way, seed)) is not None]
    assert not unhelpful, f"{len(unhelpful)} of {count}:\n" + "\n".join(unhelpful[:6])


def test_a_thousand_mistakes_are_planted() -> None:
    """The ways above come to 1,000 mistakes, and no way plants the same text again and again."""
    assert len(WAYS) * (SMALL_EACH + SHIPPED_EACH) >= 1000
    for way in WAYS:
        different = {plant("small", way, seed)[1].text for seed in range(SMALL_EACH)}
        assert len(different) >= SMALL_EACH / 4, way.__name__


@pytest.mark.parametrize("name", [name for name in TEXTS if "/" in name or name == "first.yaml"])
def test_a_file_cut_anywhere_is_told_by_its_name(name: str) -> None:
    """A file cut off at any character never raises; what is said names the file, or what has gone from it."""
    text = TEXTS[name]
    random = Random(name)
    for end in random.sample(range(len(text.rstrip())), 25):
        short = text[:end]
        if not short.strip() or short.rstrip().endswith((",", "}")) or name.startswith("vehicles/"):
            read_library({**TEXTS, name: short}).all_findings()  # may be whole as it is: it must only not raise
            continue
        found = read_library({**TEXTS, name: short}).all_findings()
        assert any(finding.place.file == name or gone(finding, text[end:]) for finding in found), short[-80:]
        assert not any(words in finding.message for finding in found for words in BLANKET), found
        lines = short.count("\n") + 1
        assert all(finding.place.line <= lines for finding in found if finding.place.file == name)


def gone(finding: Finding, rest: str) -> bool:
    """Whether the finding names something that stood in the `rest` that was cut off."""
    return any(word in rest for word in finding.message.split("`")[1::2] if word)


BYTES = (
    (b"ask: Temperatur in \xb0C", "0xB0"),
    (b"ask: f\xfcr den Techniker", "0xFC"),
    (b"ask: \x93quoted\x94", "0x93"),
    (b"ask: cut \xe2\x82", "0xE2"),
    (b"ask: \xff\xfe", "0xFF"),
    (b"ask: \xc0\x80 overlong", "0xC0"),
    (b"ask: \xed\xa0\x80 half a pair", "0xED"),
)


@pytest.mark.parametrize(("wrong", "byte"), BYTES, ids=[byte for _, byte in BYTES])
@pytest.mark.parametrize("line", [1, 9, 20])
def test_a_file_of_another_encoding_is_told_by_line_and_byte(
    tmp_path: Path, wrong: bytes, byte: str, line: int
) -> None:
    """Bytes that are no UTF-8 are named with their line; every other file is read on, so that all is told at once."""
    write(tmp_path)
    rows = TEXTS["catalogue/all.yaml"].encode().split(b"\n")
    rows.insert(line - 1, wrong)
    (tmp_path / "catalogue/all.yaml").write_bytes(b"\n".join(rows))
    (tmp_path / "second.yaml").write_bytes("tree: second".encode("utf-16"))
    with pytest.raises(KnowledgeError) as raised:
        read_texts(tmp_path)
    first, second = raised.value.findings
    assert first.place.file.endswith("catalogue/all.yaml")
    assert first.place.line == line
    assert byte in first.message
    assert "UTF-8" in first.message
    assert (second.place.file.endswith("second.yaml"), second.place.line) == (True, 1)


def write(folder: Path) -> None:
    """Write the small folder's files."""
    for name, text in TEXTS.items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")


def test_a_broken_catalogue_does_not_drown_its_mistake() -> None:
    """Where a catalogue file cannot be read, names that it would have defined are not called unknown."""
    broken = TEXTS["catalogue/all.yaml"].replace("    ask: Resistance behind the cover", "    ask: [Resistance")
    found = read_library({**TEXTS, "catalogue/all.yaml": broken}).all_findings()
    assert [finding.place.line for finding in found] == [7]


@pytest.mark.parametrize("text", ["", "\n", "# nothing\n", "---\n", "a", "[]", "- a\n- b\n", "1", "{}", "? [a]\n: b\n"])
@pytest.mark.parametrize("name", list(TEXTS))
def test_a_file_that_is_no_mapping_is_told(name: str, text: str) -> None:
    """Empty files, lists and lone words are told in the file itself, whichever file it is."""
    found = read_library({**TEXTS, name: text}).all_findings()
    empty_catalogue = name.startswith("catalogue/") and text == "{}"
    assert empty_catalogue or [finding for finding in found if finding.place.file == name], found
