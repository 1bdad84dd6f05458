"""All one-step values at once, in arrays, against the same sums act by act and cause by cause."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagtree.reason.bounds import RANKED_ANEW, plain_plan
from diagtree.reason.plan import Act, Solver, State, start
from diagtree.reason.plan_costs import Costs
from diagtree.reason.problem import Problem
from tests.bench.generators import mixed, workshop

SOME = settings(deadline=None, max_examples=60, suppress_health_check=list(HealthCheck))


def always() -> bool:
    return True


def stopped(costs: Costs, weights: Sequence[float], place: int) -> float:
    """Return the cheapest ending at once."""
    steps, total = costs.steps(place), sum(weights)
    ways = [total * steps.refer.cost] if steps.refer else []
    ways += [total * step.cost + (total - weights[cause]) * step.wrong_cost for cause, step in steps.advices.items()]
    return min(ways, default=float("inf")) if total else 0.0


def plain(costs: Costs, weights: Sequence[float], place: int) -> float:
    """Return what corrections alone cost, by chance per cost: the first few ranked anew, the rest once."""
    left, spent = list(weights), 0.0
    best, ranked = stopped(costs, left, place), list[int]()
    for number in range(len(left)):
        works = costs.steps(place).corrections
        if number <= RANKED_ANEW:
            some = [cause for cause in works if left[cause]]
            ranked = sorted(some, key=lambda cause: -left[cause] / max(works[cause].cost, 1e-9))
        if not ranked or spent >= best:
            break
        cause = ranked.pop(0)
        spent += sum(left) * works[cause].cost + left[cause] * works[cause].solved_cost
        left[cause], place = 0.0, works[cause].there
        best = min(best, spent + stopped(costs, left, place))
    return best


def one_step(problem: Problem, solver: Solver, state: State, act: Act) -> float:
    """Return what `act` costs with the plain plan behind it."""
    costs = Costs(problem)
    steps, total = costs.steps(costs.number(state.arrangement)), state.total
    if act.kind == "test":
        step = steps.tests[[test.id for test in problem.tests].index(act.id or "")]
        return total * step.cost + sum(plain(costs, after.weights, step.there) for after in solver.after(state, act))
    if act.kind == "refer":
        assert steps.refer is not None
        return total * steps.refer.cost
    cause = problem.causes.index(act.id or "")
    hit = state.weights[cause]
    if act.kind == "advise":
        return total * steps.advices[cause].cost + (total - hit) * steps.advices[cause].wrong_cost
    step = steps.corrections[cause]
    [failed] = solver.after(state, act)
    return total * step.cost + hit * step.solved_cost + plain(costs, failed.weights, step.there)


@SOME
@given(st.integers(0, 10_000), st.sampled_from([4, 9, 12, 16]), st.booleans())
def test_every_one_step_value_is_the_sum_by_hand(seed: int, causes: int, like_a_workshop: bool) -> None:
    dice = Random(seed)
    problem = workshop(causes, 6, seed) if like_a_workshop else mixed(seed, causes=causes, tests=4)
    solver, state = Solver(problem), start(problem)
    for test in dice.sample(problem.tests, min(2, len(problem.tests) - 1)):
        state = dice.choice([after for after in solver.after(state, Act("test", test.id)) if after.total])
    values = solver.q_values(state, always)
    assert values
    for value in values:
        assert value.bounds.upper == pytest.approx(one_step(problem, solver, state, value.act), rel=1e-9)


@SOME
@given(st.integers(0, 10_000), st.sampled_from([8, 11, 12, 20]), st.booleans())
def test_the_plain_plan_where_most_causes_are_out_already(seed: int, causes: int, like_a_workshop: bool) -> None:
    dice = Random(seed)
    problem = workshop(causes, 3, seed) if like_a_workshop else mixed(seed, causes=causes, tests=3)
    solver = Solver(problem)
    arrays, costs = solver.at(start(problem))[0].arrays, Costs(problem)
    rows, place = [], []
    for _ in range(8):
        share = dice.choice([0.1, 0.6, 1.0])
        row = [dice.random() ** 3 if dice.random() < share else 0.0 for _ in problem.causes]
        row[dice.randrange(len(row))] += 0.1
        rows.append([weight / sum(row) for weight in row])
        place.append(costs.number(dice.choice(arrays.costs.arrangements[: arrays.arrangements])))
    theirs = [arrays.costs.number(costs.arrangements[number]) for number in place]
    found, order = plain_plan(arrays, np.array(rows), np.array(theirs))
    assert found.tolist() == pytest.approx([plain(costs, *one) for one in zip(rows, place, strict=True)], rel=1e-9)
    for row, done in zip(rows, order.tolist(), strict=True):
        corrected = [cause for cause in done if cause >= 0]
        assert len(corrected) == len(set(corrected))
        assert all(row[cause] for cause in corrected)
