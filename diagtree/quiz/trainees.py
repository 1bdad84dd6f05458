"""Simulated trainees: yardsticks for a trainee's own rounds (what a follower of the tree would have spent), and tests.

Each names the next choice from what a trainee can see; none looks at the hidden cause.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import count

from diagtree.car.dice import chance
from diagtree.quiz.choices import Choice, Kind
from diagtree.quiz.events import Event
from diagtree.quiz.guide import suggestion
from diagtree.quiz.permitted import objection
from diagtree.quiz.respond import respond
from diagtree.quiz.round import Round
from diagtree.quiz.state import State, fold, start, step
from diagtree.quiz.way import towards
from diagtree.reason.first_advice import FirstAdvice
from diagtree.reason.plan_state import never

OutOfTime = Callable[[], bool]
Trainee = Callable[[Round, State, int, OutOfTime], Choice]
"""From the round, its state, the number of choices made so far and a limit to thinking to the next choice."""

MOST = 1000
"""Choices after which a round is given up."""


def best(played: Round, state: State, number: int, out_of_time: OutOfTime = never) -> Choice:  # noqa: ARG001
    """Follow the best strategy, as good as found in the time given."""
    if state.danger is not None or not state.case.total:
        return Choice(Kind.REFER)
    played.solver.value(state.case, out_of_time)
    act = played.solver.act(state.case)
    assert act is not None
    return towards(played, state, act)


def greedy(played: Round, state: State, number: int, out_of_time: OutOfTime = never) -> Choice:  # noqa: ARG001
    """Look one test ahead: the act whose cost is least if corrections come after it by chance per cost."""
    act = None if state.danger is not None else FirstAdvice(played.problem).act(state.case)
    return Choice(Kind.REFER) if act is None else towards(played, state, act)


def tree_follower(played: Round, state: State, number: int, out_of_time: OutOfTime = never) -> Choice:  # noqa: ARG001
    """Do what the tree says, and the best act where it says no more."""
    return suggestion(played, state, out_of_time).choice


def random(played: Round, state: State, number: int, out_of_time: OutOfTime = never) -> Choice:  # noqa: ARG001
    """Choose evenly, by the round's own dice, among all acts that are allowed and were not done before."""
    found = allowed(played, state)
    return found[int(chance(played.dealt.seed, "trainee", number) * len(found))]


TRAINEES: Mapping[str, Trainee] = {
    "best": best, "greedy": greedy, "tree-follower": tree_follower, "random": random,
}  # fmt: skip


def choices(played: Round, state: State) -> tuple[Choice, ...]:
    """Return every act that can be named, unsafe and impossible ones among them; those done to no use left out.

    How sure before a correction or an advice is what the evidence says.
    """
    catalogue, problem = played.walk.catalogue, played.problem
    found = [Choice(Kind.TEST, test) for test in played.test_numbers if test not in state.outcomes]
    found += [Choice(kind, access) for kind in (Kind.OPEN, Kind.CLOSE) for access in catalogue.access]
    found += [Choice(Kind.MAKE_SAFE), Choice(Kind.RE_ENERGISE)]
    for number, cause in enumerate(problem.causes):
        sure = min(100.0, 100.0 * state.chances[number])
        if cause in catalogue.causes and cause not in state.struck:
            found += [Choice(Kind.CORRECT, cause, sure), Choice(Kind.ADVISE, cause, sure)]
    return (*found, Choice(Kind.REFER))


def allowed(played: Round, state: State) -> tuple[Choice, ...]:
    """Return the acts among `choices` that may be done as the car stands."""
    return tuple(choice for choice in choices(played, state) if objection(played, state, choice) is None)


def play(played: Round, trainee: Trainee, allow: Callable[[], OutOfTime] = lambda: never) -> tuple[Event, ...]:
    """Return the events of a whole round of `trainee`, `Dealt` first: on the car at hand, hidden cause and all.

    allow : called once a choice; returns its `out_of_time`.
    """
    state = start(played)
    found: list[Event] = [played.dealt]
    for number in count():
        if state.ended is not None:
            break
        chosen = trainee(played, state, number, allow()) if number < MOST else Choice(Kind.STOP)
        event = respond(played, state, chosen)
        found.append(event)
        state = step(played, state, event)
    return tuple(found)


def yardstick(played: Round, trainee: Trainee, allow: Callable[[], OutOfTime] = lambda: never) -> tuple[float, float]:
    """Return the money and the bay minutes that `trainee` would have spent on the very same car."""
    state = fold(played, play(played, trainee, allow))
    return state.money, state.minutes
