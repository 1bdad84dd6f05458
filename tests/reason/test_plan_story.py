"""States told from one start: what was learnt there serves them, and stays a proven limit; nobody waits in vain."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import numpy as np
import pytest

from diagtree.reason.arrangement import Arrangement
from diagtree.reason.plan import Act, Solver, State, start
from tests.bench.generators import even, mixed, workshop


def some_calls(calls: int) -> Callable[[], bool]:
    """Return an `out_of_time` that is true from its `calls`-th call on."""
    left = [calls]

    def out() -> bool:
        left[0] -= 1
        return left[0] < 0

    return out


def on_the_way(solver: Solver, dice: Random) -> list[State]:
    """Return the states of a case in which anything is done, told by `solver`."""
    states = [start(solver.problem)]
    for _ in range(5):
        now = states[-1]
        acts = [Act("test", solver.problem.tests[number].id) for number in sorted(now.tests_left)]
        acts += [Act("correct", solver.problem.causes[number]) for number in sorted(now.corrections_left)]
        after = [state for state in solver.after(now, dice.choice(acts)) if state.total] if acts else []
        if not after:
            break
        states.append(dice.choice(after))
    return states


@pytest.mark.parametrize("seed", range(20))
def test_limits_of_states_told_from_the_start_hold_what_is_true(seed: int) -> None:
    dice = Random(seed)
    problem = (even(5, 6, seed), workshop(5, 5, seed), mixed(seed, causes=5, tests=4))[seed % 3]
    solver = Solver(problem)
    solver.solve(out_of_time=some_calls(12))  # long enough for tables, too short to be exact
    for state in on_the_way(solver, dice):
        found, true = solver.value(state, some_calls(dice.randrange(4))), Solver(problem).value(state)
        assert true.exact
        assert found.lower <= true.upper * (1 + 1e-9) + 1e-9
        assert found.upper >= true.lower * (1 - 1e-9) - 1e-9


@pytest.mark.parametrize("seed", range(6))
def test_a_state_costs_the_same_told_or_not(seed: int) -> None:
    problem = workshop(5, 5, seed)
    solver, dice = Solver(problem), Random(seed)
    for state in on_the_way(solver, dice)[1:]:
        assert solver.value(state).upper == pytest.approx(Solver(problem).value(state).upper, rel=1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_cars_alike_in_all_but_their_number_are_one_state(seed: int) -> None:
    problem = workshop(5, 5, seed)
    solver, dice = Solver(problem), Random(seed)
    state = on_the_way(solver, dice)[-1]
    more = State(tuple(2 * weight for weight in state.weights), state.tests_left, state.corrections_left,
                 state.arrangement)
    assert solver.value(more).upper == pytest.approx(2 * solver.value(state).upper)


def test_an_arrangement_met_later_has_its_own_floor() -> None:
    """A second case begins with the car taken apart: tables made for the first do not reach over into it."""
    problem = workshop(5, 5, 1)
    solver = Solver(problem)
    solver.solve()
    apart = start(problem, Arrangement(True, frozenset({"bench", "cover", "tray", "plug"})))
    assert solver.value(apart).upper == pytest.approx(Solver(problem).value(apart).upper, rel=1e-9)


@pytest.mark.parametrize("seed", range(8))
def test_what_all_states_cost_together_is_what_each_costs(seed: int) -> None:
    """Also where nothing is proven yet: what is followed is what is claimed, or cheaper."""
    problem = mixed(seed, causes=5, tests=4)
    solver = Solver(problem)
    solver.solve(out_of_time=some_calls(3))
    states = on_the_way(solver, Random(seed))
    board, _ = solver.at(states[0])
    nodes = np.array([solver.at(state)[1] for state in states])
    costs, deeds = board.followed(nodes, np.array([[state.total, 0.0] for state in states]))
    for state, cost in zip(states, (costs * [state.total for state in states]).tolist(), strict=True):
        assert cost == pytest.approx(solver.outlook(state).cost)
        assert cost <= solver.known(state).upper * (1 + 1e-9) + 1e-9
    ended = sum(state.total for state, act in deeds if act.kind in ("advise", "refer"))
    fixed = sum(
        state.weights[problem.causes.index(act.id or "")] for state, act in deeds if act.kind == "correct"
    )
    assert ended + fixed == pytest.approx(sum(state.total for state in states))
