"""The best strategy and the price of the shipped tree, in the time that is asked for.

The avoidable cost is what is above each cause's own cheapest way out: where a house refers cars for less than a part
costs, that cause's own correction is no floor under anything. Figures are printed (`pytest -s`); what is
asserted is what is reached on a busy core.
"""

from __future__ import annotations

import resource
from dataclasses import replace
from random import Random

import pytest

from diagtree.knowledge.files import load
from diagtree.knowledge.house import House
from diagtree.knowledge.words import Catalogue, Tree
from diagtree.reason.flips import flips
from diagtree.reason.plan import Solver, Strategy, start
from diagtree.reason.plan_costs import Costs
from diagtree.reason.plan_improve import improved
from diagtree.reason.price import Price, price
from diagtree.reason.problem import Problem, compile_problem
from tests.bench.pace import timed, within
from tests.bench.test_plan import FULL, full

TREE = "ac-fails-dc-works"


def shipped(vehicle: str | None) -> tuple[Tree, Catalogue, House]:
    library = load()
    tree, catalogue = library.require(TREE, vehicle)
    assert library.workshop is not None
    house = House(library.workshop.rate, library.workshop.referral, library.workshop.comeback)
    return tree, catalogue, house


def cheapest_ways_out(problem: Problem) -> float:
    """Return what the causes cost a car if each were known for certain and took its cheapest way out."""
    costs, first = Costs(problem), start(problem)
    here = costs.number(first.arrangement)
    own = [weight * costs.alone(here, cause) for cause, weight in enumerate(problem.weights)]
    return sum(own) / first.total


@pytest.mark.parametrize("vehicle", [None, "petrel-2"] if FULL else ["petrel-2"])
def test_strategy_in_2_seconds(vehicle: str | None) -> None:
    """The target is a gap of a quarter of the avoidable cost. It is not reached: see the words that are printed.

    The floor stays near known causes: thirty-five noisy tests part nearly every pair of causes, so that no table of a
    group can be made (a pair has 3 ** 20 codes), and small groups explain little here anyway: policies for groups of
    three cost about a fifth of the avoidable cost together, so no floor under them can explain more.
    """
    problem = compile_problem(*shipped(vehicle))
    Solver(problem).solve(out_of_time=lambda: True)  # numpy is loaded
    found, taken = timed(lambda: Solver(problem).solve(out_of_time=within(2)))
    known = cheapest_ways_out(problem)
    gap = (found.expected_cost - found.lower_bound) / (found.expected_cost - known)
    print(
        f"\n{TREE} on {vehicle}: {found.lower_bound:.2f} to {found.expected_cost:.2f} in {taken:.1f} s; known causes "
        f"at their cheapest {known:.2f}; gap {found.gap:.0%} of the whole, {gap:.0%} of the avoidable (target 25 %)"
    )
    assert taken <= 2.8  # following the policy comes after the search; the commands leave room for that
    assert found.gap <= 0.40  # it moves with the tree; the same time bettered point by point reaches less, see below
    assert found.lower_bound > known


def bettered(problem: Problem, seconds: float) -> Strategy:
    """As the commands do it: a short search, then its policy made better point by point."""
    return improved(Solver(problem), whole=within(0.15 * seconds), out_of_time=within(0.9 * seconds))


def padded(problem: Problem, tests: int) -> Problem:
    """Return the problem with more tests: blurred copies of its own, dearer or cheaper, up to so many."""
    dice, more = Random(5), []
    for number in range(tests - len(problem.tests)):
        test = dice.choice(problem.tests)
        sharp = [dice.uniform(0.5, 1) for _ in problem.causes]
        chance = tuple(
            tuple(part * chance + (1 - part) / len(test.chance) for part, chance in zip(sharp, row, strict=True))
            for row in test.chance
        )
        minutes = test.minutes * dice.uniform(0.5, 2)
        more.append(replace(test, id=f"more{number:02d}", chance=chance, minutes=minutes, labour=minutes))
    return replace(problem, tests=(*problem.tests, *more))


def test_bettered_point_by_point_beats_searching_as_long() -> None:
    """Both have 3 seconds. Measured on an earlier tree: 1,120 against 1,180; after 10 seconds 1,100 against 1,133."""
    problem = compile_problem(*shipped("petrel-2"))
    searched = Solver(problem).solve(out_of_time=within(3)).expected_cost
    found, taken = timed(lambda: bettered(problem, 3))
    print(f"\n{TREE}: {found.expected_cost:.2f} in {taken:.1f} s, searched alone {searched:.2f}")
    assert found.expected_cost < searched
    assert taken <= 4.5


@full
def test_long_sixty_tests_and_ten_seconds() -> None:
    """As large as a tree may get. Measured once: 1,106 in 10 s and 1,133 in 2 s, searched alone 1,222 in 10 s."""
    problem = padded(compile_problem(*shipped("petrel-2")), 60)
    found, quick = bettered(problem, 10), bettered(problem, 2)
    searched = Solver(problem).solve(out_of_time=within(10)).expected_cost
    print(
        f"\n{TREE} with 60 tests: {found.expected_cost:.2f} in 10 s, {quick.expected_cost:.2f} in 2 s, searched alone "
        f"{searched:.2f} in 10 s"
    )
    assert found.expected_cost <= 0.97 * searched
    assert quick.expected_cost <= 1.05 * found.expected_cost


def test_every_guess_is_looked_through_in_a_few_seconds() -> None:
    """Some 800 guesses by their slopes, none solved again. A tenth of that is the passes over the policies."""
    tree, catalogue, house = shipped("petrel-2")
    solver = Solver(compile_problem(tree, catalogue, house))
    improved(solver, whole=within(0.3), out_of_time=within(2))
    found, taken = timed(
        lambda: flips(tree, catalogue, house, solver=solver, out_of_time=lambda: True, each=lambda: lambda: True)
    )
    print(f"\n{TREE}: {found.of} guesses looked through in {taken:.1f} s")
    assert found.of > 500
    assert taken <= 5


@pytest.mark.parametrize("vehicle", [None, "petrel-2"] if FULL else ["petrel-2"])
def test_price_in_3_seconds(vehicle: str | None) -> None:
    """Adding up is not cut short: some 0.02 ms for each of the tree's states (19,000 by now), all of a step at once."""
    tree, catalogue, house = shipped(vehicle)

    def searched_and_priced() -> Price:
        out_of_time = within(2.4)
        solver = Solver(compile_problem(tree, catalogue, house))
        solver.solve(out_of_time=within(1.2))
        return price(tree, catalogue, house, solver=solver, out_of_time=out_of_time)

    found, taken = timed(searched_and_priced)
    print(
        f"\nprice of {TREE} on {vehicle}: {found.expected_cost:.2f}, best {found.lower_bound:.2f} to "
        f"{found.best_cost:.2f}, in {taken:.1f} s"
    )
    assert taken <= 3.6
    assert found.lower_bound <= found.best_cost <= found.expected_cost
    regrets = sum(step.reached * step.regret for step in found.steps.values())
    regrets += sum(ending.figures.reached * ending.figures.regret for ending in found.endings)
    assert regrets == pytest.approx(found.expected_cost - found.best_cost)


def test_first_advice_on_the_shipped_tree() -> None:
    problem = compile_problem(*shipped("petrel-2"))
    taken = []
    for _ in range(5):
        values, seconds = timed(lambda: Solver(problem).q_values(start(problem), within(0.03)))
        taken.append(seconds)
    print(f"\nfirst advice on {TREE}: {min(taken) * 1000:.0f} ms")
    assert len(values) > 40
    assert min(taken) <= 0.1


@full
def test_long_policy_of_2_seconds_against_a_minute() -> None:
    """The target: the policy of two seconds costs at most 2 per cent more than that of a minute. Printed beside it.

    Not reached: ceilings of states that nobody has looked into are those of a plan without tests, so that a good policy
    takes seconds to show.
    """
    problem = compile_problem(*shipped("petrel-2"))
    quick, long = (Solver(problem).solve(out_of_time=within(seconds)) for seconds in (2, 60))
    megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"\n{TREE}: {quick.expected_cost:.2f} after 2 s; {long.lower_bound:.2f} to {long.expected_cost:.2f} after a "
        f"minute or all room: {quick.expected_cost / long.expected_cost - 1:.1%} above (target 2 %); "
        f"{megabytes:.0f} MB"
    )
    assert quick.expected_cost <= 1.10 * long.expected_cost
    assert megabytes <= 500
