"""What `check --worth` says: told where the exact price says so, silent on the best tree there is."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, assume, given, settings

from diagtree.check.example import BASE
from diagtree.check.rule import Rule, examples, rules
from diagtree.check.rules.conclusion_dear import LIMIT as DEAR
from diagtree.check.rules.step_regret import LIMIT as REGRET
from diagtree.check.run import check_library, usual_rules
from diagtree.check.worth import Countdown
from diagtree.errors import WrongUse
from diagtree.knowledge.library import Library, read_library
from diagtree.knowledge.place import Finding, Place
from diagtree.knowledge.words import Conclude
from diagtree.reason.plan import Solver
from diagtree.reason.plan_tree import strategy_tree
from diagtree.reason.price import price
from diagtree.reason.problem import compile_problem
from diagtree.report.tree_yaml import tree_text
from tests.check.replay import replay
from tests.check.valid_folders import CAR, TREE, Folder, folders
from tests.documents import Document, texts, words
from tests.strategies import documents

WORTH = tuple(rule for rule in rules() if rule.family == "worth")
QUIET = list(HealthCheck)


def said(library: Library) -> list[Finding]:
    """Return what the rules about worth say."""
    names = {rule.id for rule in WORTH}
    return [one for one in check_library(library, WORTH) if one.rule in names]


def test_worth_is_told_on_wish_only() -> None:
    assert {rule.id for rule in WORTH} == {"step-regret", "conclusion-dear", "stripping-early"}
    assert not set(WORTH) & set(usual_rules())
    assert set(WORTH) <= set(usual_rules(worth=True))


@settings(max_examples=40, deadline=None, suppress_health_check=QUIET, database=None)
@given(folders())
def test_what_is_told_is_what_the_price_says(folder: Folder) -> None:
    """The same limits on `price` as it stands, without any bound of effort, tree by tree and at the exact places."""
    library = read_library({name: text for name, text in folder.texts().items() if name != CAR})
    wanted: set[tuple[str, Place]] = set()
    for tree in library.trees.values():
        found = price(tree, library.catalogue(None), library.house)
        for step_id, figures in found.steps.items():
            if figures.regret > REGRET * found.expected_cost:
                wanted.add(("step-regret", tree.steps[step_id].at))
        for end in found.endings:
            if isinstance(end.ending, Conclude) and end.figures.regret > DEAR * (end.figures.cost - end.figures.regret):
                wanted.add(("conclusion-dear", tree.steps[end.step].then_at[end.outcome]))
    told = {(one.rule, one.place) for one in said(library) if one.rule != "stripping-early"}
    assert told == wanted


@settings(max_examples=30, deadline=None, suppress_health_check=QUIET, database=None)
@given(documents(max_causes=4, max_tests=4))
def test_the_best_tree_is_worth_its_money(document: Document) -> None:
    """The strategy that `plan` finds, written as a tree, has no regret anywhere, and no conclusion is too dear."""
    known = words(document)
    try:
        solver = Solver(compile_problem(known.tree, known.catalogue, known.house))
        best = solver.solve()
    except WrongUse:  # a cause without any act left: no price, no plan
        assume(False)
    assume(best.exact and best.first_act is not None and best.first_act.kind == "test")
    drawn = strategy_tree(solver, known.tree, known.catalogue, "planned")
    library = read_library(texts(document) | {"planned.yaml": tree_text(drawn)})
    found = [one for one in said(library) if one.place.file == "planned.yaml" and one.rule != "stripping-early"]
    assert [str(one) for one in found] == []


@pytest.mark.parametrize("rule", WORTH, ids=lambda rule: rule.id)
def test_the_witness_comes_to_the_place(rule: Rule) -> None:
    """Played through the real session, the answers come to the step that costs too much."""
    library = read_library({**BASE, **examples(rule).fires})
    for found in check_library(library, [rule]):
        if found.rule == rule.id and found.witness is not None:
            played = replay(library, "tree", found.witness)
            step = next(
                step for step in library.tree("tree").steps.values()
                if found.place in (step.at, *step.then_at.values())
            )  # fmt: skip
            assert played.answer_at(step.id) is not None
            return
    raise AssertionError("no witness")


def test_the_best_act_is_named_where_a_conclusion_is_dear() -> None:
    rule = next(rule for rule in WORTH if rule.id == "conclusion-dear")
    told = [one.message for one in said(read_library({**BASE, **examples(rule).fires})) if one.rule == rule.id]
    assert len(told) == 1
    assert "best is `conclude: point-fault` first" in told[0]


def test_the_same_folder_has_the_same_findings() -> None:
    """The effort is counted in turns, not in seconds."""
    assert said(read_library(dict(BASE))) == said(read_library(dict(BASE)))
    countdown = Countdown(2)
    assert [countdown(), countdown(), countdown(), countdown()] == [False, False, True, True]


@settings(max_examples=30, deadline=None, suppress_health_check=QUIET, database=None)
@given(folders())
def test_a_tree_without_a_price_is_left_to_other_rules(folder: Folder) -> None:
    """A loop, an unknown step: no price, and nothing said about worth."""
    spoilt = folder.changed()
    spoilt.files[TREE]["steps"]["test-0"]["then"]["alpha"] = "danger-look"
    found = said(read_library(spoilt.texts()))
    assert [one for one in found if one.place.file == TREE and one.rule != "stripping-early"] == []


STRIPPING = next(rule for rule in WORTH if rule.id == "stripping-early")
EARLY = {**BASE, **examples(STRIPPING).fires}


@pytest.mark.parametrize(
    ("file", "old", "new", "told"),
    [
        ("catalogue/more.yaml", "minutes: 3", "minutes: 90", False),  # not cheaper
        ("catalogue/more.yaml", "needs: {power: live}", "needs: {power: dead}", False),  # takes the car apart as well
        ("vehicles/petrel-2.yaml", "unlikely: 95, likely: 5", "unlikely: 40, likely: 60", False),  # parts less clearly
        ("vehicles/petrel-2.yaml", "unlikely: 95, likely: 5", "unlikely: 60, likely: 40", True),
        ("tree.yaml", "no: sensor-resistance", "no: sensor-resistance\n      not-done: sensor-resistance", True),
    ],
)
def test_stripping_early_wants_a_test_that_is_cheaper_and_as_good(file: str, old: str, new: str, told: bool) -> None:
    assert old in EARLY[file]
    found = said(read_library({**EARLY, file: EARLY[file].replace(old, new)}))
    assert [one.rule for one in found if one.rule == "stripping-early"] == (["stripping-early"] if told else [])
