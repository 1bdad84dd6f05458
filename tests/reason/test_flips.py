"""Flip distances: the guesses that matter, by lines over each guess and by solving again."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from diagtree.reason.flip_lines import Lines
from diagtree.reason.flips import Flips, flips
from diagtree.reason.guesses import Guess, guesses
from diagtree.reason.plan import Act, Solver, start
from diagtree.reason.plan_arrays import Arrays
from diagtree.reason.plan_costs import Costs
from diagtree.reason.plan_written import Writer
from diagtree.reason.problem import compile_problem
from diagtree.reason.written_costs import Costing, Sums
from tests.documents import Known, words
from tests.reason.test_next_act import workshop
from tests.reason.test_plan_improve import after
from tests.strategies import documents

FEW = settings(
    deadline=None, max_examples=8, phases=[Phase.explicit, Phase.generate], suppress_health_check=list(HealthCheck)
)  # not shrunk: an example takes seconds


def asked(known: Known) -> list[Guess]:
    return list(guesses(known.tree, known.catalogue, Costs(compile_problem(known.tree, known.catalogue, known.house))))


def all_flips(known: Known) -> Flips:
    return flips(known.tree, known.catalogue, known.house, most=None)


def lost(known: Known, guess: Guess, value: float, now: Act) -> tuple[float, float]:
    """Return what a car loses by beginning with `now` where the guess is `value`, and the least cost."""
    solver = Solver(compile_problem(*guess.change(value), known.house))
    state = start(solver.problem)
    values = solver.q_values(state)
    own = next((one.bounds.upper for one in values if one.act == now), None)
    if own is None:  # a test that parts nothing there
        own = state.total * solver.step(state, now).cost
        own += sum(bounds.upper for bounds in solver.values(solver.after(state, now)))
    return (own - values[0].bounds.upper) / state.total, values[0].bounds.upper / state.total


def test_the_flip_of_a_tests_minutes_by_hand() -> None:
    """Trying the sensor first, untested, wastes for 78 of 100 cars 20 (part) + 60 + 10 + 10 + 10 + 25 + 10 = 145.

    The test costs its minutes for everybody: it is worth doing below 0.78 * 145 = 113.1 minutes.
    """
    document = workshop()
    document["tests"]["ohms"]["minutes"] = 40
    known = words(document)
    found = all_flips(known)
    assert found.now == Act("test", "ohms")
    assert found.solved == found.of == len(asked(known))
    flip = {(flip.kind, flip.of): flip for flip in found.found}["minutes", "ohms"]
    assert flip.at == pytest.approx(113.1)
    assert flip.becomes == Act("correct", "sensor")
    assert flip.wrong == pytest.approx(160 - 113.1)
    assert (flip.again, flip.gap) == (True, 0.0)


def test_each_flip_really_changes_the_first_act_and_just_before_it_nothing_changes() -> None:
    known = words(workshop())
    now = Solver(compile_problem(known.tree, known.catalogue, known.house)).solve().first_act
    found = all_flips(known).found
    assert found
    by_name = {(guess.kind, guess.of): guess for guess in asked(known)}
    for flip in found:
        guess = by_name[flip.kind, flip.of]
        step = (flip.at - flip.value) * 1e-4
        acts = [
            Solver(compile_problem(*guess.change(value), known.house)).solve().first_act
            for value in (flip.at + step, flip.at - step)
        ]
        assert acts[0] == flip.becomes != now
        assert acts[1] == now


@FEW
@given(documents(max_causes=3, max_tests=2), st.integers(0, 10**6))
def test_flips_are_those_of_brute_force(document: object, seed: int) -> None:
    """Before a flip the first act stays the best; where none is told, everywhere; and what being wrong costs is so."""
    known = words(document)  # type: ignore[arg-type]
    found = all_flips(known)
    assert found.now is not None
    told = {(flip.kind, flip.of): flip for flip in found.found}
    every = asked(known)
    for guess in Random(seed).sample(every, min(8, len(every))):
        flip = told.get((guess.kind, guess.of))
        for end in {guess.low, guess.high} - {guess.value}:
            same_side = flip is not None and (flip.at - guess.value) * (end - guess.value) >= 0
            for part in (0.1, 0.5, 1.0):
                value = guess.value + part * (end - guess.value)
                loses, least = lost(known, guess, value, found.now)
                if flip is None or (same_side and abs(value - guess.value) < abs(flip.at - guess.value)):
                    assert loses <= 1e-7 * max(least, 1)
                if flip is not None and same_side and part == 1.0 and loses > 1e-6 * max(least, 1):
                    assert flip.wrong == pytest.approx(loses, rel=1e-6)


@FEW
@given(documents(max_causes=4, max_tests=4), st.integers(0, 3), st.integers(0, 10**6))
def test_slopes_are_whole_differences(document: object, calls: int, seed: int) -> None:
    """A fixed policy is costed again on other figures: a share, a per cent, a time or a price far from what it was."""
    known = words(document)  # type: ignore[arg-type]
    solver = Solver(compile_problem(known.tree, known.catalogue, known.house))
    state = start(solver.problem)
    solver.solve(state, after(calls))
    board, node = solver.at(state)
    writer = Writer(board.arrays, forced=True)
    policy = writer.written(writer.copy(board, np.array([node]))[0])
    before = Costing(board.arrays).sums(policy)
    dice = Random(seed)
    for guess in guesses(known.tree, known.catalogue, board.arrays.costs):
        value = dice.choice([guess.low, guess.high])
        costs = Costs(compile_problem(*guess.change(value), known.house))
        for arrangement in board.arrays.costs.arrangements:  # the same numbers
            costs.number(arrangement)
        arrays = Arrays(costs.problem, costs)
        for arrangement in board.arrays.costs.arrangements:
            arrays.include(arrangement)
        again = Costing(arrays).sums(policy).cost
        slope = guess.slope(before)
        assert again - before.cost == pytest.approx(slope * (value - guess.value), abs=1e-7 * max(before.cost, 1))


def test_a_quick_look_comes_from_lines_and_says_so() -> None:
    known = words(workshop())
    found = flips(known.tree, known.catalogue, known.house, out_of_time=lambda: True)
    assert found.solved == 0
    assert found.of == len(asked(known))
    assert not any(flip.again for flip in found.found)
    exact = {(flip.kind, flip.of): flip for flip in all_flips(known).found}
    for flip in found.found:  # of the policies known, so no true flip can be missed by far where these are the best
        assert flip.wrong >= 0
        assert (flip.kind, flip.of) in exact


def test_beginning_with_a_test_that_no_longer_parts_anything_costs_its_price() -> None:
    """Were both causes to show `bad`, the test would be 6 minutes for nothing: all the rest is done anyway."""
    known = words(workshop())
    flip = {(flip.kind, flip.of): flip for flip in all_flips(known).found}["shows", "sensor: ohms fine"]
    assert flip.becomes == Act("correct", "sensor")
    assert flip.wrong == pytest.approx(6)


def test_two_outcomes_are_one_guess() -> None:
    document = workshop()
    document["causes"]["sensor"]["shows"]["ohms"] = {"fine": 90, "bad": 10}
    shown = [guess.of for guess in asked(words(document)) if guess.kind == "shows"]
    assert shown == ["harness: ohms bad", "sensor: ohms fine"]


def test_what_the_cost_hangs_on_most_by_hand() -> None:
    """The harness costs 1,450 for 78 cars in 100: a tenth more is 113.1 a car."""
    found = all_flips(words(workshop()))
    first = found.heaviest[0]
    assert (first.kind, first.of, first.value) == ("price", "harness", 1450)
    assert first.more == pytest.approx(113.1)
    # A tenth more harnesses: 85.8 of 107.8 cars, each 1,430 dearer than a sensor.
    share = next(one for one in found.heaviest if (one.kind, one.of) == ("share", "harness"))
    assert share.more == pytest.approx(7.8 * 0.22 * 1430 / 100)


def test_a_rival_that_is_cheaper_between_two_crossings_only_is_found() -> None:
    """Three policies by hand, over one guess of 10 between 0 and 40: costs 100 + 0 d, 104 - 2 d, 90 + 4 d."""
    line = Guess("price", "x", 10.0, 0.0, 40.0, lambda value: None, lambda sums: sums.cost)  # type: ignore[arg-type,return-value]
    lines = Lines([line])
    nothing = np.zeros(0)
    for act, (cost, slope) in enumerate([(100.0, 0.0), (104.0, -2.0)]):
        lines.add(act, act, Sums(slope, nothing, nothing, nothing, nothing))
        lines.cost[act] = cost
    assert lines.nearest(0, np.array([40.0]))[0] == pytest.approx(12.0, rel=1e-6)
    assert np.isnan(lines.nearest(0, np.array([0.0]))[0])
    assert lines.wrong(0, np.array([40.0]))[0] == pytest.approx(56)
    assert lines.crossing(0, 0, 1) == pytest.approx(12)
