"""A strategy that is searched further where it goes: never dearer, followed for what it claims, exact if it can be."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from diagtree.reason.plan import Solver, start
from diagtree.reason.plan_improve import improved
from tests.bench.generators import workshop


def after(calls: int) -> Callable[[], bool]:
    """Return a clock that strikes after so many questions."""
    left = iter(range(calls))
    return lambda: next(left, None) is None


@pytest.mark.parametrize("seed", range(6))
def test_it_is_never_dearer_and_costs_what_following_it_costs(seed: int) -> None:
    solver = Solver(workshop(7, 8, seed))
    first = start(solver.problem)
    before = solver.solve(first, after(6))
    found = improved(solver, whole=after(0), out_of_time=after(40))
    assert found.lower_bound <= found.expected_cost <= before.expected_cost * (1 + 1e-12)
    assert found.expected_cost == pytest.approx(solver.outlook(first).cost / first.total)


@pytest.mark.parametrize("seed", range(4))
def test_with_all_the_time_there_is_it_is_the_best_there_is(seed: int) -> None:
    best = Solver(workshop(5, 6, seed)).solve()
    found = improved(Solver(workshop(5, 6, seed)), whole=after(0), out_of_time=lambda: False)
    assert found.exact
    assert found.expected_cost == pytest.approx(best.expected_cost)
