"""The trees on paper: each page and picture is fresh, complete, and fits the sheet it is printed on."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest

from diagtree.knowledge.files import load, read_texts, shipped_folder
from diagtree.knowledge.library import Library
from diagtree.knowledge.words import SOMETHING_ELSE
from diagtree.report.tree_page import index
from diagtree.report.tree_paper import papers
from diagtree.report.tree_picture import LETTERS
from diagtree.report.tree_sheets import BOX, GAP, HEIGHT, MARGIN, WIDTH

FOLDER = Path(__file__).parents[2] / "docs" / "trees"
MAKE = "stale: run `python -m tests.report.test_tree_pages`"
TREES = sorted(name.removesuffix(".yaml") for name in read_texts(shipped_folder()) if "/" not in name)
TREES.remove("workshop")


@cache
def library() -> Library:
    return load()


@cache
def written(tree: str) -> dict[str, str]:
    """Return the page and the sheets of a tree by their names."""
    return dict(papers(library(), tree))


def drawn(tree: str) -> list[str]:
    return [text for name, text in written(tree).items() if name.endswith(".svg")]


def files(trees: list[str]) -> Iterator[tuple[str, str]]:
    """Give every generated file of these trees: name and text."""
    for tree in trees:
        yield from written(tree).items()


@pytest.mark.parametrize("tree", TREES)
def test_the_page_and_its_pictures_are_fresh(tree: str) -> None:
    """docs/trees/TREE.md and its sheets are what the knowledge says today."""
    for name, text in files([tree]):
        assert (FOLDER / name).is_file(), MAKE
        assert (FOLDER / name).read_text(encoding="utf-8") == text, f"{name} is {MAKE}"


def test_the_list_of_trees_is_fresh_and_nothing_is_left_over() -> None:
    assert (FOLDER / "README.md").read_text(encoding="utf-8") == index(library().trees.values()), MAKE
    made = {name for name, _ in files(TREES)}
    left = {path.name for path in FOLDER.iterdir() if path.name.endswith((".md", ".svg"))} - made
    assert left <= {"README.md", "prices.md"}, "left over from a tree that is gone"


@pytest.mark.parametrize("tree", TREES)
def test_every_cause_test_caution_and_source_stands_on_the_page(tree: str) -> None:
    text = written(tree)[f"{tree}.md"].replace("\\", "")
    known, catalogue = library().tree(tree), library().catalogue(None)
    for cause in (catalogue.causes[name] for name in known.causes if name != SOMETHING_ELSE):
        assert f"id `{cause.id}`" in text
        for caution in cause.correction.mind if cause.correction else ():
            assert caution in text
    for test in (catalogue.tests[step.test] for step in known.steps.values()):
        assert text.count(f"### {test.id}\n") == 1
        for words in (test.ask, test.source, *test.how, *test.mind, *test.needs.state):
            assert " ".join(words.split()) in text


@pytest.mark.parametrize("tree", TREES)
def test_every_step_is_drawn_once_and_every_arrow_leads_to_one(tree: str) -> None:
    sheets = drawn(tree)
    steps = re.findall(r'id="step-([^"]+)"', "".join(sheets))
    assert sorted(steps) == sorted(library().tree(tree).steps)
    for number, sheet in enumerate(sheets, 1):
        for arrow, there in re.findall(r">→ (\d+)(?:, sheet (\d+))?<", sheet):
            target = sheets[int(there or number) - 1]
            assert f'font-weight="bold">{arrow}  ' in target


@pytest.mark.parametrize("tree", TREES)
def test_letters_stay_on_the_sheet_in_their_boxes_and_off_each_other(tree: str) -> None:
    """Widths by an average letter of a sans-serif face, generously: a wide text shows here before it does on paper."""
    for sheet in drawn(tree):
        root = ElementTree.fromstring(sheet)
        rows: list[tuple[float, float, float]] = []
        for one in root.iter("{http://www.w3.org/2000/svg}text"):
            if "font-size" in one.attrib:
                continue
            left, base, words = float(one.attrib["x"]), float(one.attrib["y"]), one.text or ""
            right = left + len(words) * LETTERS * (0.58 if one.get("font-weight") else 0.53)
            column = MARGIN + (left - MARGIN) // (BOX + GAP) * (BOX + GAP)
            assert right <= column + BOX + (GAP if left > column + BOX else 0.0)
            assert MARGIN <= base <= HEIGHT - MARGIN
            assert right <= WIDTH - MARGIN
            rows.append((base, left, right))
        rows.sort()
        for base, left, right in rows:
            for other, start, end in rows:
                if 0 < other - base < LETTERS:
                    assert end <= left or right <= start, (left, base)


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for old in FOLDER.glob("*.svg"):
        old.unlink()
    (FOLDER / "README.md").write_text(index(library().trees.values()), encoding="utf-8")
    for name, text in files(TREES):
        (FOLDER / name).write_text(text, encoding="utf-8")
