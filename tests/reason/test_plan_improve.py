"""A strategy that is searched further where it goes: never dearer, followed for what it claims, exact if it can be."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from diagtree.reason import plan_search
from diagtree.reason.plan import Solver, after_failure, start
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


def test_it_leaves_the_room_that_states_asked_for_afterwards_need(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(plan_search, "ROOM", 1e6)

    def narrowed(room: float) -> float:
        """Return by how much of its gap a search narrows the limits of the state after a correction in vain."""
        solver = Solver(workshop(10, 14, 1))
        improved(solver, whole=after(2000), out_of_time=after(0), room=room)
        assert solver.filled >= 0.4
        later = after_failure(solver.problem, start(solver.problem), solver.problem.corrections[0].cause)
        before, found = solver.known(later), solver.value(later, after(60))
        return 1 - (found.upper - found.lower) / (before.upper - before.lower)

    assert narrowed(1.0) == 0.0
    assert narrowed(0.4) > 0.1
