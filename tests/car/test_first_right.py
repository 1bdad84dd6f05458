"""Simulated cars led to their first correction: by hand where the figures are sure, and on all that ships.

On all that ships: the share of right first corrections that the price table keeps (docs/trees/prices.json, 60 cars a
cause) is that of the cars of today, within sampling error; with DIAGTREE_BENCH=full the same cars, to the last digit.
"""

from __future__ import annotations

import os
from functools import cache
from math import sqrt
from pathlib import Path

import pytest

from diagtree.car.first_right import by_strategy, by_tree, disturbed, first_acts, over_shares
from diagtree.knowledge.files import load
from diagtree.knowledge.library import Library, read_library
from diagtree.reason.plan import Solver
from diagtree.reason.problem import compile_problem
from diagtree.report.price_table import Row, read_rows
from diagtree.terminal.price_table import CARS, SEED, pairs
from diagtree.walk.context import Walk

KEPT = Path(__file__).parents[2] / "docs" / "trees" / "prices.json"
FULL = os.environ.get("DIAGTREE_BENCH") == "full"
FEW = 10  # cars of each cause where time is short
ERRORS = 4  # standard errors of the difference; the dice are fixed, so it falls the same way every time

HOUSE = "workshop: A house\nrate: 100\nreferral: 900\ncomeback: 300\n"
CATALOGUE = """
tests:
  lit: {ask: Is it lit?, place: reception, minutes: 1, outcomes: [yes, no], healthy: yes, mistake: 0, source: estimate}
  loud: {ask: Is it loud?, place: reception, minutes: 1, outcomes: [yes, no], healthy: no, mistake: 0, source: estimate}
causes:
  lamp: {name: Lamp, where: outside, shows: {lit: {no: 100}}, advise: {do: Change the lamp., minutes: 5}}
  fuse: {name: Fuse, where: outside, shows: {lit: {no: 100}, loud: {yes: 100}}, advise: {do: Change it., minutes: 5}}
  wire: {name: Wire, where: outside, shows: {loud: {yes: 100}}, advise: {do: Change the lamp., minutes: 5}}
"""
TREE = """
diagtree: 1
tree: {name}
title: A complaint
causes: {{lamp: 50, fuse: 20, wire: 20, something-else: 10}}
start: {start}
steps:
{steps}
"""


def walk(steps: str, start: str = "lit", **others: str) -> Walk:
    texts = {"one.yaml": TREE.format(name="one", start=start, steps=steps)}
    texts |= {f"{name}.yaml": TREE.format(name=name, start="loud", steps=other) for name, other in others.items()}
    return Walk.begin(read_library(texts | {"catalogue/all.yaml": CATALOGUE, "workshop.yaml": HOUSE}), "one")


PARTED = """
  lit: {then: {yes: {refer: somebody}, no: loud}}
  loud: {then: {yes: {conclude: fuse}, no: {conclude: lamp}}}
"""


def test_sure_figures_lead_every_car_the_same_way() -> None:
    here = walk(PARTED)
    found = first_acts(here, by_tree(here), 7, 1)
    assert {cause: one.right for cause, one in found.items()} == {"lamp": 100.0, "fuse": 100.0, "wire": 0.0}
    assert found["wire"].instead == {None: 100.0}
    assert over_shares(found, here.tree_of("one").causes) == pytest.approx(100.0 * 70 / 90)


def test_the_same_advice_is_right_for_both_causes() -> None:
    here = walk("  lit: {then: {yes: {conclude: wire}, no: {conclude: wire}}}")
    found = first_acts(here, by_tree(here), 3, 1)
    assert {cause: one.right for cause, one in found.items()} == {"lamp": 100.0, "fuse": 0.0, "wire": 100.0}
    assert found["fuse"].instead == {"wire": 100.0}


def test_a_hand_over_goes_on_in_the_other_tree_with_the_same_answers() -> None:
    other = """
  loud: {then: {yes: lit, no: {conclude: lamp}}}
  lit: {then: {yes: {hand-over: one}, no: {conclude: fuse}}}
"""
    here = walk("  lit: {then: {yes: {hand-over: other}, no: {hand-over: other}}}", other=other)
    found = first_acts(here, by_tree(here), 3, 1)
    assert {cause: one.right for cause, one in found.items()} == {"lamp": 100.0, "fuse": 100.0, "wire": 0.0}
    assert found["wire"].instead == {None: 100.0}, "round in a ring, nothing is corrected"


def test_the_best_strategy_gets_all_right_where_tests_part_all_for_nothing() -> None:
    here = walk(PARTED)
    problem = compile_problem(here.tree_of("one"), here.catalogue, here.house)
    solver = Solver(problem)
    solver.solve()
    found = first_acts(here, by_strategy(problem, solver.act), 3, 1)
    assert {cause: one.right for cause, one in found.items()} == {"lamp": 100.0, "fuse": 100.0, "wire": 100.0}


def test_disturbed_figures_stay_near_and_add_up() -> None:
    cause = load().catalogue(None).causes["charge-point-fault"]
    moved = 0
    for seed in range(20):
        for test, shows in disturbed(cause, seed).shows.items():
            assert sum(shows.values()) == pytest.approx(100.0)
            for outcome, figure in shows.items():
                before = cause.shows[test][outcome]
                assert before * 0.8 / 1.2 <= figure <= before * 1.2 / 0.8
                moved += figure != before
    assert moved > 100
    assert disturbed(cause, 1) == disturbed(cause, 1) != disturbed(cause, 2)


@cache
def library() -> Library:
    return load()


def kept() -> list[Row]:
    known = set(pairs(library()))
    return [row for row in read_rows(KEPT.read_text(encoding="utf-8"), KEPT.name) if row.key in known]


@pytest.mark.parametrize("row", kept(), ids=lambda row: f"{row.tree}-{row.vehicle}")
def test_the_kept_share_is_that_of_the_cars_of_today(row: Row) -> None:
    here = Walk.begin(library(), row.tree, row.vehicle)
    shares = here.tree_of(row.tree).causes
    found = first_acts(here, by_tree(here), CARS if FULL else FEW, SEED)
    share = over_shares(found, shares)
    if FULL:
        assert share == pytest.approx(row.tree_right, abs=0.06)
        return
    weights = [shares[cause] / sum(shares[one] for one in found) for cause in found]
    error = sqrt(sum(weight**2 for weight in weights) * 0.25 * (1 / FEW + 1 / CARS))
    assert abs(share - row.tree_right) <= 100.0 * ERRORS * error
