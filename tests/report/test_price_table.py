"""The table of prices: fresh, within the bounds that a tree must keep, and only figures make it stale."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner

from diagtree.errors import WrongUse
from diagtree.knowledge.files import load, read_texts, shipped_folder
from diagtree.knowledge.library import Library, read_library
from diagtree.report.price_table import DEAR, Row, Seldom, page, read_rows, reasons_of, write_rows
from diagtree.terminal.main import program
from diagtree.terminal.price_table import digest, due, pairs

FOLDER = Path(__file__).parents[2] / "docs" / "trees"
DATA = FOLDER / "prices.json"
COMPUTE = "run `diagtree price --table docs/trees/prices.json --seconds 60 --jobs 2`"
MAKE = "stale: run `python -m tests.report.test_price_table`"
SEARCHED = 60  # s, of the best strategy
RIGHT, BEHIND = 75.0, 5.0
"""Per cent of simulated cars that a tree must get right at first; points that it may be behind the best strategy."""


@cache
def library() -> Library:
    return load()


@cache
def rows() -> dict[tuple[str, str], Row]:
    return {row.key: row for row in read_rows(DATA.read_text(encoding="utf-8"), DATA.name)}


def reasons() -> dict[str, dict[str, str]]:
    return {tree: dict(reasons_of(library().texts[f"{tree}.yaml"])) for tree in library().trees}


def whole() -> str:
    return page(rows().values(), reasons())


def test_the_page_is_fresh() -> None:
    assert (FOLDER / "prices.md").read_text(encoding="utf-8") == whole(), MAKE


def test_every_tree_on_every_car_has_its_row_from_the_knowledge_of_today() -> None:
    stale = [f"{tree} on {car}" for tree, car in due(library(), tuple(rows().values()))]
    assert not stale, f"missing or stale: {', '.join(stale)}; {COMPUTE}"
    assert set(rows()) == set(pairs(library())), f"a tree is gone; {COMPUTE}"


@pytest.mark.parametrize("tree", sorted({tree for tree, _ in pairs(load())}))
def test_the_tree_keeps_its_bounds_on_every_car(tree: str) -> None:
    said = reasons()[tree]
    for row in (row for row in rows().values() if row.tree == tree):
        assert row.seconds >= SEARCHED, f"{row.vehicle}: {COMPUTE}"
        assert row.bound <= row.best <= row.price
        dear = row.ratio > DEAR
        assert not dear or row.vehicle in said, f"{row.vehicle}: {row.ratio:.3f}; mend it or say why in the tree"
        assert dear or row.vehicle not in said, f"{row.vehicle} is not dear ({row.ratio:.3f}): take the reason out"
        assert row.tree_right >= RIGHT, row.vehicle
        assert row.tree_right >= row.strategy_right - BEHIND, row.vehicle


TREE, CAR = "ac-fails-dc-works", "petrel-2"


def changed(name: str, old: str, new: str) -> Library:
    texts = dict(read_texts(shipped_folder()))
    text, times = re.subn(old, new, texts[name], count=1)
    assert times == 1, f"{name} has no {old}"
    return read_library(texts | {name: text})


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        (f"{TREE}.yaml", r"(  charge-point-fault:) \d+", r"\1 77"),
        (f"{TREE}.yaml", r"conclude: charge-point-fault", "conclude: supply-volts-off"),
        ("workshop.yaml", r"(\nrate:) \d+", r"\1 77"),
        ("catalogue/procedures.yaml", r"(make-safe:\n    minutes:) \d+", r"\1 77"),
        ("catalogue/access.yaml", r"(rear seat bench\n    open:) \d+", r"\1 77"),
        ("catalogue/supply.yaml", r"\{no: 5, yes: 95\}", "{no: 6, yes: 94}"),
    ],
)
def test_a_figure_or_a_branch_makes_a_row_stale(name: str, old: str, new: str) -> None:
    assert digest(changed(name, old, new), TREE, CAR) != digest(library(), TREE, CAR)


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        (f"{TREE}.yaml", "\ntitle: ", "\ntitle: Now "),
        (f"{TREE}.yaml", "\nhears:\n", "\nhears:\n  - it is broken\n"),
        ("catalogue/supply.yaml", "name: Fault", "name: A fault"),
        ("catalogue/charger.yaml", "ask: What", "ask: Now what"),
        ("catalogue/access.yaml", "name: rear seat", "name: back seat"),
        ("catalogue/procedures.yaml", "do: Pull", "do: Now pull"),
    ],
)
def test_words_leave_it_fresh(name: str, old: str, new: str) -> None:
    assert digest(changed(name, old, new), TREE, CAR) == digest(library(), TREE, CAR)


ONE = Row("a", "car", "12", 60.0, 110.0, 99.0, 80.0, 80.0, 60, 81.0, 84.0, (Seldom("c", 40.0, {"d": 60.0}, 45.0),))


def test_rows_come_back_as_they_were_kept() -> None:
    kept = write_rows([replace(ONE, tree="b"), ONE])
    assert read_rows(kept, "kept.json") == (ONE, replace(ONE, tree="b"))


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"rows": [{"tree": 1}]}', '{"rows": 3}'])
def test_what_is_no_table_is_said_so(text: str) -> None:
    with pytest.raises(WrongUse, match=r"kept\.json"):
        read_rows(text, "kept.json")


def test_reasons_need_a_name_and_words() -> None:
    text = "tree: a\n# dear on car because the look comes first\n# dear on other because\n# dear on third: no\n"
    text += "# seldom right: c because d has the same signs\n"
    assert reasons_of(text) == {"car": "the look comes first", "c": "d has the same signs"}
    assert "a on car, 1.11: the look comes first" in page([ONE], {"a": reasons_of(text)})
    assert "The best strategy gets 45 %. Reason: d has the same signs\n" in page([ONE], {"a": reasons_of(text)})
    assert "no reason is given" in page([ONE], {})
    assert "`c` 40 %; instead first: d 60 %. The best strategy gets 45 %.\n" in page([ONE], {})


def test_without_a_tree_the_command_wants_a_table() -> None:
    done = CliRunner().invoke(program, ["price"], standalone_mode=False)
    assert "--table" in str(done.exception)


def test_the_command_computes_what_is_missing_and_goes_on_where_it_was(tmp_path: Path) -> None:
    """A row whose knowledge is unchanged is kept as it is, whatever stands in it."""
    folder, file = tmp_path / "trees", tmp_path / "prices.json"
    for name, text in SMALL.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text)
    call = ["--trees", str(folder), "price", "--table", str(file), "--seconds", "20"]  # proven long before

    def run(*more: str) -> str:
        done = CliRunner().invoke(program, [*call, *more], standalone_mode=False)
        assert done.exception is None, done.output
        return done.output

    assert "2 rows, 2 of them computed now" in run()
    first, second = read_rows(file.read_text(), "prices.json")
    file.write_text(write_rows([replace(first, price=7.0), replace(second, digest="old")]))
    assert "2 rows, 1 of them computed now" in run()
    again = read_rows(file.read_text(), "prices.json")
    assert again == (replace(first, price=7.0), second)
    file.unlink()
    assert "2 rows, 2 of them computed now" in run("--jobs", "2")
    assert read_rows(file.read_text(), "prices.json") == (first, second)


SMALL = {
    "small.yaml": (
        "diagtree: 1\ntree: small\ntitle: A complaint\ncauses: {lamp: 60, point: 40}\nstart: lit\n"
        "steps: {lit: {then: {yes: {conclude: point}, no: {conclude: lamp}}}}\n"
    ),
    "catalogue/all.yaml": (
        "tests:\n  lit: {ask: Is it lit?, place: reception, minutes: 2, outcomes: [yes, no], healthy: yes, mistake: 2, "
        "source: estimate}\n"
        "causes:\n"
        "  lamp: {name: Lamp, where: outside, shows: {lit: {no: 95, yes: 5}}, advise: {do: Change it., minutes: 5}}\n"
        "  point: {name: Point, where: outside, shows: {lit: {yes: 90, no: 10}}, advise: {do: See it., minutes: 9}}\n"
    ),
    "vehicles/one.yaml": "vehicle: one\nname: First car\n",
    "vehicles/two.yaml": "vehicle: two\nname: Second car\n",
    "workshop.yaml": "workshop: A house\nrate: 100\ncomeback: 300\nreferral: 200\n",
}


if __name__ == "__main__":
    (FOLDER / "prices.md").write_text(whole(), encoding="utf-8")
