"""The best strategy against a plain recursion over single states, and the properties it must have."""

from __future__ import annotations

from dataclasses import replace
from itertools import count
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import WrongUse
from diagtree.knowledge.house import House
from diagtree.knowledge.words import Power
from diagtree.reason import plan_search
from diagtree.reason.arrangement import Arrangement, Need
from diagtree.reason.plan import Act, Solver, State, after_failure, after_test, start
from diagtree.reason.problem import Problem, ProblemAdvice, ProblemCorrection, ProblemTest
from tests.bench.generators import access, even, layout, mixed, workshop

SEEDS = st.integers(0, 10**6)
FEW = settings(deadline=None, max_examples=40)


class Twin:
    """Every act in every state, one at a time: slow and obvious. Costs are over all cars of the state."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.memo: dict[State, float] = {}

    def value(self, state: State) -> float:
        if not any(state.weights):
            return 0.0
        if state not in self.memo:
            self.memo[state] = min(self.acts(state).values(), default=float("inf"))
        return self.memo[state]

    def acts(self, state: State) -> dict[Act, float]:
        problem, total, here = self.problem, state.total, state.arrangement
        found = {}
        for number in state.tests_left:
            test = problem.tests[number]
            minutes = problem.moved(here, test.need)[1] + test.labour
            cost = total * problem.money(minutes)
            for outcome in range(len(test.outcomes)):
                cost += self.value(after_test(problem, state, number, outcome))
            found[Act("test", test.id)] = cost
        for work in problem.corrections:
            if work.cause in state.corrections_left:
                there, minutes = problem.moved(here, work.need)
                live, more = problem.to_live(there)
                cost = total * (problem.money(minutes + work.labour + more + work.proof_labour) + work.price)
                cost += state.weights[work.cause] * problem.money(problem.end_minutes(live))
                cost += self.value(after_failure(problem, state, work.cause))
                found[Act("correct", problem.causes[work.cause])] = cost
        end = problem.end_minutes(here)
        for advice in problem.advices:
            wrong = (total - state.weights[advice.cause]) * (problem.house.comeback or 0.0)
            found[Act("advise", problem.causes[advice.cause])] = total * problem.money(end + advice.labour) + wrong
        if problem.house.referral is not None:
            found[Act("refer")] = total * (problem.money(end) + problem.house.referral)
        return found


def same(value: float) -> object:
    return pytest.approx(value, rel=1e-9, abs=1e-9)


def walk(problem: Problem, dice: Random) -> State:
    """Return a state that some acts lead to."""
    state = start(problem)
    for _ in range(dice.randint(0, 3)):
        if state.tests_left and dice.random() < 0.7:
            test = dice.choice(sorted(state.tests_left))
            after = after_test(problem, state, test, dice.randrange(len(problem.tests[test].outcomes)))
        elif state.corrections_left:
            after = after_failure(problem, state, dice.choice(sorted(state.corrections_left)))
        else:
            continue
        state = after if any(after.weights) else state
    return state


@pytest.fixture(params=[0, 10**9], ids=["without tables", "with all tables"])
def tables(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Both extremes: in small problems the tables would otherwise hardly come into play."""
    monkeypatch.setattr(plan_search, "TABLE_PACE", request.param)
    monkeypatch.setattr(plan_search, "TABLE_CREDIT", request.param)


@pytest.mark.usefixtures("tables")
@pytest.mark.parametrize("block", range(6))
def test_optimum_and_first_act_are_those_of_the_twin(block: int) -> None:
    for seed in range(25 * block, 25 * block + 25):
        problem = mixed(seed, causes=4, tests=4)
        twin, found = Twin(problem), Solver(problem).solve()
        best = twin.value(start(problem))
        assert found.exact
        assert found.expected_cost * sum(problem.weights) == same(best)
        assert found.first_act is not None
        assert twin.acts(start(problem))[found.first_act] == same(best)


@pytest.mark.usefixtures("tables")
@pytest.mark.parametrize("seed", range(1000, 1012))
def test_larger_problems_agree_too(seed: int) -> None:
    problem = mixed(seed)
    assert Solver(problem).value(start(problem)).upper == same(Twin(problem).value(start(problem)))


@pytest.mark.parametrize("seed", range(60))
def test_every_act_has_the_twins_cost_in_states_on_the_way(seed: int) -> None:
    problem = mixed(seed, causes=4, tests=3)
    state, twin = walk(problem, Random(seed)), Twin(problem)
    listed = Solver(problem).q_values(state)
    costs = twin.acts(state)
    for value in listed:
        assert value.bounds.exact
        assert value.bounds.upper == same(costs[value.act])
    assert [value.bounds.upper for value in listed] == sorted(value.bounds.upper for value in listed)
    # What is not listed cannot be the best: tests that part nothing, corrections of causes that are ruled out.
    assert min(value.bounds.upper for value in listed) == same(min(costs.values()))


@FEW
@given(SEEDS)
def test_an_act_that_parts_nothing_is_never_needed(seed: int) -> None:
    """Opening, closing or making safe earlier than needed saves nothing: so useless tests may be left out."""
    problem = mixed(seed, causes=3, tests=3)
    constant = replace(problem.tests[0], chance=((0.5,) * len(problem.causes),) * 2, outcomes=("a", "b"))
    useless = replace(problem, tests=(constant, *problem.tests[1:]))
    without = replace(problem, tests=problem.tests[1:])
    assert Twin(useless).value(start(useless)) == same(Twin(without).value(start(without)))


def follow(solver: Solver, state: State) -> tuple[float, float, list[float], float]:
    """Follow the policy act by act; return cost, bay minutes, wrong parts and comebacks over all cars."""
    act = solver.act(state)
    if act is None:
        return 0.0, 0.0, [0.0] * len(state.weights), 0.0
    step, total = solver.step(state, act), state.total
    cost, minutes = total * step.cost, total * step.minutes
    wrong, comebacks = [0.0] * len(state.weights), 0.0
    if act.kind in ("correct", "advise"):
        cause = solver.problem.causes.index(act.id or "")
        hit = state.weights[cause]
        cost += hit * step.solved_cost + (total - hit) * step.wrong_cost
        minutes += hit * step.solved_minutes
        if act.kind == "advise":
            comebacks = total - hit
        else:
            wrong[cause] = total - hit
    for after in solver.after(state, act):
        more = follow(solver, after)
        cost, minutes, comebacks = cost + more[0], minutes + more[1], comebacks + more[3]
        wrong = [mine + its for mine, its in zip(wrong, more[2], strict=True)]
    return cost, minutes, wrong, comebacks


@pytest.mark.parametrize("calls", [0, 1, 4, 10**9])
@pytest.mark.parametrize("seed", range(12))
def test_what_is_claimed_is_what_following_the_policy_costs(seed: int, calls: int) -> None:
    """At whatever point the search was cut short."""
    problem = mixed(seed) if seed % 2 else workshop(5, 5, seed)
    solver, left = Solver(problem), count()
    found = solver.solve(out_of_time=lambda: next(left) >= calls)
    cost, minutes, wrong, comebacks = follow(solver, start(problem))
    total, outlook = sum(problem.weights), solver.outlook(start(problem))
    assert found.expected_cost * total == same(cost)
    assert found.expected_minutes * total == same(minutes)
    assert outlook.cost == same(cost)
    assert list(outlook.wrong_parts) == [same(weight) for weight in wrong]
    assert outlook.comebacks == same(comebacks)
    best = Solver(problem).value(start(problem))
    assert found.lower_bound * total <= best.upper * (1 + 1e-9)
    assert cost >= best.lower * (1 - 1e-9)


@pytest.mark.parametrize("problem", [even(8, 8, 1), workshop(7, 9, 2), mixed(5)], ids=["even", "workshop", "mixed"])
def test_limits_never_cross_and_never_loosen(problem: Problem) -> None:
    solver, seen = Solver(problem), []

    def watch() -> bool:
        seen.append(solver._bounds(start(problem)))  # as it stands, without searching on
        return False

    final = solver.value(start(problem), watch)
    assert len(seen) > 2
    assert final.exact
    for before, after in zip(seen, [*seen[1:], final], strict=True):
        assert before.lower <= after.lower <= after.upper <= before.upper
        assert before.lower <= final.lower * (1 + 1e-12)


@FEW
@given(SEEDS)
def test_an_extra_test_or_a_lower_price_never_raises_the_optimum(seed: int) -> None:
    problem, dice = mixed(seed, causes=4, tests=4), Random(seed)
    best = Solver(problem).solve().expected_cost
    fewer = replace(problem, tests=problem.tests[1:])
    assert best <= Solver(fewer).solve().expected_cost * (1 + 1e-9)
    cheaper = tuple(replace(work, price=work.price * dice.random()) for work in problem.corrections)
    assert Solver(replace(problem, corrections=cheaper)).solve().expected_cost <= best * (1 + 1e-9)
    quicker = tuple(replace(test, labour=test.labour * dice.random()) for test in problem.tests)
    assert Solver(replace(problem, tests=quicker)).solve().expected_cost <= best * (1 + 1e-9)


@FEW
@given(SEEDS, st.floats(0.05, 0.95))
def test_the_optimum_is_concave_in_the_shares_and_scales_with_them(seed: int, part: float) -> None:
    problem, dice = mixed(seed, causes=4, tests=4), Random(seed)
    solver, first = Solver(problem), start(problem)
    other = replace(first, weights=tuple(20 * dice.random() for _ in first.weights))
    between = replace(first, weights=tuple(
        part * one + (1 - part) * two for one, two in zip(first.weights, other.weights, strict=True)
    ))
    one, two, mixed_value = (solver.value(state).upper for state in (first, other, between))
    assert mixed_value >= (part * one + (1 - part) * two) * (1 - 1e-9)
    threefold = replace(first, weights=tuple(3 * weight for weight in first.weights))
    assert solver.value(threefold).upper == same(3 * one)


@FEW
@given(SEEDS)
def test_order_and_names_change_nothing(seed: int) -> None:
    problem, dice = mixed(seed, causes=4, tests=4), Random(seed)
    count_ = len(problem.causes)
    order = dice.sample(range(count_), count_)  # new number to old
    new = {old: number for number, old in enumerate(order)}
    turned = replace(
        problem,
        weights=tuple(problem.weights[old] for old in order),
        tests=tuple(
            replace(test, id=f"x{test.id}", chance=tuple(tuple(row[old] for old in order) for row in test.chance[::-1]))
            for test in problem.tests[::-1]
        ),
        corrections=tuple(replace(work, cause=new[work.cause]) for work in problem.corrections),
        advices=tuple(replace(advice, cause=new[advice.cause]) for advice in problem.advices),
    )
    assert Solver(turned).solve().expected_cost == same(Solver(problem).solve().expected_cost)


def test_many_states_at_once_are_the_same_as_one_by_one() -> None:
    problem = mixed(3)
    dice = Random(3)
    states = [walk(problem, dice) for _ in range(20)]
    together = Solver(problem).values(states)
    for state, bounds in zip(states, together, strict=True):
        assert bounds.exact
        assert bounds.upper == same(Twin(problem).value(state))


@pytest.mark.parametrize("seed", range(30))
def test_a_case_may_begin_with_the_car_taken_apart(seed: int) -> None:
    problem = mixed(seed, causes=3, tests=3)
    now = Arrangement(dead=True, open=problem.layout.closure(problem.layout.access))
    assert Solver(problem).value(start(problem, now)).upper == same(Twin(problem).value(start(problem, now)))


# -- by hand


def plain(weights: tuple[float, ...], prices: tuple[float, ...], tests: tuple[ProblemTest, ...] = (), *,
          house: House | None = None, advices: tuple[ProblemAdvice, ...] = ()) -> Problem:
    corrections = tuple(
        ProblemCorrection(cause, 0.0, 0.0, price, Need(Power.ANY), 0.0, 0.0) for cause, price in enumerate(prices)
    )
    causes = tuple(f"c{number}" for number in range(len(weights)))
    return Problem(causes, weights, tests, corrections, advices, house or House(60.0), layout([]))


def sure(name: str, minutes: float, *bad: int, causes: int = 2) -> ProblemTest:
    row = tuple(float(cause in bad) for cause in range(causes))
    return ProblemTest(
        name, ("bad", "ok"), (row, tuple(1 - chance for chance in row)), minutes, minutes, Need(Power.ANY)
    )


def test_without_tests_the_likelier_per_cost_goes_first() -> None:
    found = Solver(plain((3.0, 1.0), (30.0, 20.0))).solve()
    assert found.first_act == Act("correct", "c0")
    assert found.expected_cost == pytest.approx(30 + 0.25 * 20)
    assert found.perfect_information == pytest.approx(0.75 * 30 + 0.25 * 20)
    assert found.avoidable == pytest.approx(7.5)


def test_of_equally_good_acts_a_test_comes_first_then_the_smaller_id() -> None:
    # Each test costs what it saves: 10 * 1/2.
    tests = (sure("b", 5.0, 0), sure("a", 5.0, 1))
    solver = Solver(plain((1.0, 1.0), (10.0, 10.0), tests))
    found = solver.solve()
    assert found.first_act == Act("test", "a")
    assert [value.act for value in solver.q_values(start(solver.problem))] == [
        Act("test", "a"), Act("test", "b"), Act("correct", "c0"), Act("correct", "c1"),
    ]


def test_wrong_advice_may_be_the_cheap_way_out() -> None:
    problem = plain((9.0, 1.0), (100.0,), house=House(60.0, None, 20.0), advices=(ProblemAdvice(1, 5.0, 5.0),))
    solver = Solver(problem)
    found = solver.solve()
    assert found.first_act == Act("advise", "c1")
    assert found.expected_cost == pytest.approx(5 + 0.9 * 20)
    assert solver.outlook(start(problem)).comebacks == pytest.approx(9.0)


def test_a_correction_that_may_not_be_tried_again_is_left_out() -> None:
    problem = plain((3.0, 1.0), (30.0, 20.0), house=House(60.0, 200.0, None))
    solver = Solver(problem)
    state = replace(start(problem), corrections_left=frozenset({1}))
    assert solver.value(state).upper == pytest.approx(Twin(problem).value(state))
    assert solver.act(state) == Act("correct", "c1")
    assert solver.value(start(problem)).upper == pytest.approx(4 * 30 + 20)


def test_a_cause_for_which_nothing_can_be_done_is_named() -> None:
    problem = plain((3.0, 1.0), (30.0,))
    with pytest.raises(WrongUse, match=r"cause `c1`.*--referral"):
        Solver(problem).solve()


def test_where_no_car_is_left_nothing_is_to_be_done() -> None:
    problem = plain((0.0, 0.0), (30.0, 20.0))
    solver = Solver(problem)
    assert solver.solve().first_act is None
    assert solver.value(start(problem)).upper == 0.0
    assert solver.q_values(start(problem)) == ()


def test_access_is_shared_between_a_test_and_a_correction() -> None:
    cover = layout([access("cover", 20.0, 10.0)])
    need = Need(Power.ANY, frozenset({"cover"}))
    test = replace(sure("look", 1.0, 0), need=need)
    problem = replace(
        plain((1.0, 1.0), (50.0, 50.0), (test,)), layout=cover,
        corrections=tuple(ProblemCorrection(cause, 0.0, 0.0, 50.0, need, 0.0, 0.0) for cause in range(2)),
    )
    # Opened once, closed once, looked once, one part.
    assert Solver(problem).solve().expected_cost == pytest.approx(20 + 1 + 50 + 10)


def test_hurry_gives_a_policy_at_once() -> None:
    found = Solver(workshop(10, 12, 1)).solve(out_of_time=lambda: True)
    assert found.lower_bound < found.expected_cost
    assert 0 < found.gap < found.avoidable_gap <= 1
    assert found.first_act is not None
