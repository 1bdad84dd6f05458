"""One mistake is told once: what only seems to be wrong because of it, elsewhere, is not told besides."""

from __future__ import annotations

import os
from functools import cache
from inspect import getmodule, getsource
from random import Random

import pytest

from diagtree.check.example import BASE
from diagtree.check.run import check_library, usual_rules
from diagtree.knowledge.files import read_texts, shipped_folder
from diagtree.knowledge.library import read_library

FULL = os.environ.get("DIAGTREE_BENCH") == "full"
SPOILT = 8
"""Shipped files that are spoilt in turn where time is short, of each kind at least one: each takes a whole check."""
FIRST = "ac-fails-dc-works"
VEHICLE = "vehicle: petrel-2\nsafety: {dead_below: 30, wait: 5}\n"


@cache
def shipped() -> dict[str, str]:
    """Return the shipped knowledge, with a second tree that shares the causes and hands over to the first."""
    texts = read_texts(shipped_folder())
    handing = texts[f"{FIRST}.yaml"].replace(f"tree: {FIRST}", "tree: other").replace(
        "{refer: a workshop that may open this car}", f"{{hand-over: {FIRST}}}", 1
    )
    assert f"hand-over: {FIRST}" in handing
    return {**texts, "other.yaml": handing}


def spoilt() -> list[str]:
    """Return the names of the files to spoil."""
    names = sorted(read_texts(shipped_folder()))
    if FULL:
        return names
    kinds = [[name for name in names if name.rpartition("/")[0] == kind] for kind in ("", "catalogue", "vehicles")]
    dice = Random(1)
    return sorted({dice.choice(kind) for kind in kinds} | {"workshop.yaml", *dice.sample(names, SPOILT - 4)})


def told(texts: dict[str, str]) -> list[tuple[str, str]]:
    """Return rule and file of what the check says."""
    return [(one.rule, one.place.file) for one in check_library(read_library(texts), usual_rules())]


def test_the_shipped_folder_with_a_second_tree_has_no_mistake() -> None:
    assert told(shipped()) == []


@pytest.mark.parametrize("name", spoilt())
def test_a_file_that_cannot_be_read_makes_nothing_else_wrong(name: str) -> None:
    broken = {**shipped(), name: shipped()[name] + "\n  broken: [\n"}
    assert told(broken) == [("unreadable-yaml", name)]


@pytest.mark.parametrize("none", ["{}", ""])
def test_a_tree_without_steps_has_a_mistake(none: str) -> None:
    text = shipped()["other.yaml"]
    broken = {**shipped(), "other.yaml": f"{text[:text.index('steps:')]}steps: {none}\n"}
    assert told(broken) == [("unknown-step", "other.yaml"), ("rules-wait", "other.yaml")]


def test_a_misspelt_step_does_not_make_all_behind_it_unreached() -> None:
    tree = BASE["tree.yaml"].replace("no: sensor-resistance", "no: sensor-resistanc")
    assert told({**BASE, "tree.yaml": tree}) == [("unknown-step", "tree.yaml")]


def test_a_test_without_its_healthy_outcome_rules_no_cause_out() -> None:
    catalogue = BASE["catalogue/catalogue.yaml"].replace("healthy: normal", "healthy: norml")
    found = told({**BASE, "catalogue/catalogue.yaml": catalogue})
    assert found == [("unknown-outcome", "catalogue/catalogue.yaml")]


@pytest.mark.parametrize(
    ("file", "right", "typed", "rules"),
    [
        (f"{FIRST}.yaml", "    then:", "    thn:", ["unknown-key", "rules-wait"]),
        (f"{FIRST}.yaml", "\nsteps:", "\nstps:", ["unknown-key", "rules-wait"]),
        (f"{FIRST}.yaml", "\ncauses:", "\ncauess:", ["unknown-key", "rules-wait"]),
        (f"{FIRST}.yaml", "{conclude: ", "{conclud: ", ["unknown-word", "rules-wait"]),
        (f"{FIRST}.yaml", "\ntitle:", "\ntitel:", ["unknown-key"]),
        ("catalogue/charger.yaml", "\ntests:", "\ntetss:", ["unknown-key"]),
    ],
)
def test_a_misspelt_key_is_told_first_and_what_only_follows_from_it_waits(
    file: str, right: str, typed: str, rules: list[str]
) -> None:
    texts = shipped()
    if right in ("\ntests:",):
        texts = {**texts, file: "\n" + texts[file]}
    assert right in texts[file]
    spoilt = {**texts, file: texts[file].replace(right, typed, 1)}
    assert told(spoilt) == [(rule, file) for rule in rules]


def test_trees_without_a_catalogue_are_told_once() -> None:
    texts = {name: text for name, text in BASE.items() if not name.startswith("catalogue/")}
    assert told(texts) == [("catalogue-missing", "catalogue/")]


def test_every_rule_that_follows_branches_says_so() -> None:
    """Else it is not counted among those that wait."""
    for rule in usual_rules(worth=True):
        source = "" if rule.find is None else getsource(getmodule(rule.find) or rule.find)
        assert rule.follows == ("trees_on_cars()" in source or "graphs()" in source), rule.id


@pytest.mark.parametrize(
    ("entry", "rule", "said"),
    [
        ("tests: {sensor-resistence: {minutes: 4}}", "unknown-test", "did you mean `sensor-resistance`?"),
        ("causes: {sensor-opn: {where: wiring}}", "unknown-cause", "did you mean `sensor-open`?"),
        ("access: {wheel-liner: {open: 4}}", "unknown-access", "`name:` first"),
    ],
)
def test_a_car_that_differs_in_nothing_known_is_told_once(entry: str, rule: str, said: str) -> None:
    texts = {**BASE, "vehicles/petrel-2.yaml": f"{VEHICLE}differs: {{{entry}}}\n"}
    (found,) = check_library(read_library(texts), usual_rules())
    assert (found.rule, found.place.file, found.place.line) == (rule, "vehicles/petrel-2.yaml", 3)
    assert said in found.message


def test_a_car_may_have_an_access_of_its_own() -> None:
    differs = (
        "differs:\n  access: {wheel-liner: {name: wheel-arch liner, open: 9, close: 11}}\n"
        "  procedures: {make-safe: {needs: {open: [undertray, wheel-liner]}}}\n"
    )
    assert told({**BASE, "vehicles/petrel-2.yaml": VEHICLE + differs}) == []
