"""The clever code against its slow, obvious twin (`tests.oracles.expectimax`) on generated problems."""

from __future__ import annotations

from fractions import Fraction
from math import prod
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from diagtree.reason.plan import Solver, start
from diagtree.reason.price import price
from diagtree.reason.problem import compile_problem
from tests.documents import words
from tests.oracles.expectimax import Expectimax, ListedPaths
from tests.strategies import documents

MANY = settings(deadline=None, max_examples=125, suppress_health_check=list(HealthCheck))


def check_best_strategy(document: Any) -> None:
    known, slow = words(document), Expectimax(document)
    problem = compile_problem(known.tree, known.catalogue, known.house)
    total = sum(slow.shares.values())
    tally, first = slow.best({})
    found = Solver(problem).solve()
    assert found.exact
    assert found.expected_cost == pytest.approx(float(tally.cost / total), rel=1e-9, abs=1e-9)
    assert first is not None
    assert found.first_act is not None
    if (found.first_act.kind, found.first_act.id) != first:  # only where both are equally good
        chosen = slow.value((found.first_act.kind, found.first_act.id), {}, frozenset(), (False, frozenset()))
        assert float(chosen.cost / total) == pytest.approx(float(tally.cost / total), rel=1e-9, abs=1e-9)


def check_values_of_acts(document: Any) -> None:
    known, slow = words(document), Expectimax(document)
    problem = compile_problem(known.tree, known.catalogue, known.house)
    for value in Solver(problem).q_values(start(problem)):
        twin = slow.value((value.act.kind, value.act.id), {}, frozenset(), (False, frozenset()))
        assert value.bounds.lower == pytest.approx(float(twin.cost), rel=1e-9, abs=1e-9)
        assert value.bounds.upper == pytest.approx(float(twin.cost), rel=1e-9, abs=1e-9)


def check_price(document: Any) -> None:
    known, slow = words(document), ListedPaths(document)
    twin, found = slow.price(), price(known.tree, known.catalogue, known.house)

    def same(mine: float, its: Fraction) -> None:
        assert mine == pytest.approx(float(its), rel=1e-9, abs=1e-9)

    same(found.expected_cost, twin["expected_cost"])
    same(found.best_cost, twin["best_cost"])
    same(found.lower_bound, twin["best_cost"])
    same(sum(found.money.values()), twin["expected_cost"])
    for step, figures in found.steps.items():
        its = twin["steps"].get(step, dict.fromkeys(("reached", "cost", "regret"), Fraction(0)))
        same(figures.reached, its["reached"])
        same(figures.cost, its["cost"])
        same(figures.regret, its["regret"])
    if not slow.start.tied:  # what goes with the cost is settled only where one act is the best
        same(found.expected_minutes, twin["expected_minutes"])
        same(found.comeback, twin["comeback"])
        same(found.right_first, twin["right_first"])
        for cause, chance in found.wrong_part.items():
            same(chance, twin["wrong_part"].get(cause, Fraction(0)))


@MANY
@given(documents(max_causes=3, max_tests=3, stops=True))
def test_price_of_small_trees(document: Any) -> None:
    check_price(document)


@MANY
@given(documents(max_causes=3, max_tests=3))
def test_best_strategy_of_small_problems(document: Any) -> None:
    check_best_strategy(document)
    check_values_of_acts(document)


def bearable(document: Any) -> bool:
    """Whether the slow twin gets through in a second or so: not every test and every cause at their most together."""
    answers = prod(len(test["outcomes"]) + 1 for test in document["tests"].values())
    return bool(answers * 2 ** sum("correction" in cause for cause in document["causes"].values()) <= 1000)


@MANY
@given(documents().filter(bearable))
def test_best_strategy_of_larger_problems(document: Any) -> None:
    check_best_strategy(document)


@MANY
@given(documents(stops=True).filter(bearable))
def test_price_of_larger_trees(document: Any) -> None:
    check_price(document)
