"""Policies written down and bettered point by point: what they cost, and that they can be followed."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.reason.plan import Solver, start
from diagtree.reason.plan_bank import Bank
from diagtree.reason.plan_state import never
from diagtree.reason.plan_written import Writer
from diagtree.reason.problem import Problem
from diagtree.reason.written_costs import Costing
from tests.bench.generators import mixed, workshop
from tests.reason.test_plan import follow, same
from tests.reason.test_plan_improve import after

SEEDS = st.integers(0, 10**6)
SOME = settings(deadline=None, max_examples=60)


def small(seed: int) -> Problem:
    return mixed(seed, causes=4, tests=4) if seed % 2 else workshop(5, 5, seed)


@SOME
@given(SEEDS, st.integers(0, 6))
def test_a_written_policy_costs_what_following_it_costs(seed: int, calls: int) -> None:
    solver = Solver(small(seed))
    first = start(solver.problem)
    found = solver.solve(first, after(calls))
    board, node = solver.at(first)
    writer = Writer(board.arrays)
    policy = writer.written(writer.copy(board, np.array([node]))[0])
    sums = Costing(board.arrays).sums(policy)
    assert sums.cost == same(found.expected_cost * first.total)
    assert sums.cost == same(float(sums.each @ solver.problem.weights))
    cars = sums.acts.sum(axis=0)[: len(solver.problem.tests)]
    assert (cars <= first.total * (1 + 1e-9)).all()
    bank = Bank(board.arrays)
    [root] = bank.writer.copy(board, np.array([node]))
    bank.enter()
    assert float(bank.value.data[root] @ solver.problem.weights) == same(sums.cost)


@SOME
@given(SEEDS, st.integers(0, 6))
def test_bettered_it_is_no_dearer_no_cheaper_than_the_best_and_can_be_followed(seed: int, calls: int) -> None:
    best = Solver(small(seed)).solve()
    solver = Solver(small(seed))
    first = start(solver.problem)
    before = solver.solve(first, after(calls)).expected_cost
    solver.improve(first, never)
    claimed = solver.outlook(first)
    assert claimed.cost <= before * first.total * (1 + 1e-9)
    assert claimed.cost >= best.expected_cost * first.total * (1 - 1e-9)
    cost, minutes, wrong, comebacks = follow(solver, first)
    assert cost <= claimed.cost * (1 + 1e-9)  # a test that would tell nothing by then is passed over
    if cost == same(claimed.cost):
        assert minutes == same(claimed.minutes)
        assert wrong == [same(weight) for weight in claimed.wrong_parts]
        assert comebacks == same(claimed.comebacks)
    assert solver.solve(first).expected_cost == same(best.expected_cost)  # a search goes on from there


@pytest.mark.parametrize("seed", range(8))
def test_without_tests_that_were_done_and_from_elsewhere_it_is_the_policy_of_the_rest(seed: int) -> None:
    """From another arrangement and with one test known, a policy costs what its acts cost there."""
    problem, dice = workshop(5, 5, seed), Random(seed)
    solver = Solver(problem)
    first = start(problem)
    solver.solve(first, after(dice.randrange(4)))
    board, node = solver.at(first)
    writer = Writer(board.arrays, forced=True)
    [root] = writer.copy(board, np.array([node]))
    test, place = dice.randrange(5), int(board.graph.place.data[node])
    there = int(board.arrays.test_next[place, test])
    kids = tuple(writer.elsewhere(root, there, {test: outcome}) for outcome in range(2))
    moved = writer.written(writer.node(test, place, kids))
    done = moved.act == test
    assert done.sum() == 1  # never done again
    sums = Costing(board.arrays).sums(moved)
    step = board.arrays.test_cost[place, test] * first.total
    plain = Costing(board.arrays).sums(writer.written(root)).cost
    assert sums.cost >= Solver(problem).solve().expected_cost * first.total * (1 - 1e-9)
    if there == place:  # no access: at most the test's price is lost
        assert sums.cost <= (plain + step) * (1 + 1e-9)


def test_a_long_case_gets_cheaper_than_by_searching_as_long() -> None:
    problem = workshop(10, 14, 3)
    solver = Solver(problem)
    first = start(problem)
    searched = solver.solve(first, after(10)).expected_cost
    solver.improve(first, never, least=0.01)
    assert solver.outlook(first).cost / first.total < searched
    heavier = replace(first, weights=tuple(2 * weight for weight in first.weights))
    assert solver.known(heavier).upper == same(2 * solver.known(first).upper)
