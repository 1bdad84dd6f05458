"""The score of each decision: what it cost beyond the best, by what could be known then. Luck does not come into it.

Regret of an act = its cost now with all going best afterwards, less the cost of the best strategy from the same state;
both are expected over the causes by the evidence at that time, so the hidden cause changes nothing. Moves (open, close,
make safe, re-energise) are decisions too: on the way of the best strategy they cost no regret.
Source: performance difference lemma (Kakade and Langford 2002): the expected cost of a policy is that of the best
strategy plus the expected sum of its regrets.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import inf

from diagtree.knowledge.words import Power
from diagtree.quiz.choices import Choice, Kind
from diagtree.quiz.events import Advised, Corrected, Event, Hinted, Moved, Paid, Referred, Tested
from diagtree.quiz.guide import due
from diagtree.quiz.round import Round
from diagtree.quiz.state import State, after_vain_work, start, step
from diagtree.quiz.way import on_the_way
from diagtree.reason import plan
from diagtree.reason.arrangement import LIVE, Arrangement, Need, minutes_of
from diagtree.reason.plan import Act
from diagtree.reason.plan_state import never
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Decision:
    """One decision with its price.

    place : among the round's events, from 0. minutes, money : of the act, as it happened on this car.
    regret : money lost on average by choosing this, on the best figures found. at_least, at_most : its proven limits;
        equal to it where the strategies are exact.
    regret_minutes : bay minutes beyond those of the best strategy, on average. Below 0 where the strategy that is best
        in money takes longer.
    best : what the best strategy does there (its goal: a test, a correction, an ending).
    as_the_tree_says : the round is guided, and that was the tree's own next act, or on the way to it (where the tree
        has no more to say: what the guide told): what it costs is the tree's affair.
    as_hinted : a hint said so, and still stood: what it costs is the hint's affair.
    for_danger : a test that may find a danger, done for the first time: the sums leave danger out, people must not.
    """

    place: int
    choice: Choice
    minutes: float
    money: float
    regret: float
    at_least: float
    at_most: float
    regret_minutes: float
    best: Act | None
    as_the_tree_says: bool = False
    as_hinted: bool = False
    for_danger: bool = False

    @property
    def gap(self) -> float:
        """What is not proven of the regret. [money]"""
        return self.at_most - self.at_least

    @property
    def own(self) -> bool:
        """Whether the trainee answers for it: neither tree nor hint has said so, and it is no look for a danger."""
        return not (self.as_the_tree_says or self.as_hinted or self.for_danger)

    @property
    def right(self) -> bool:
        """Whether nothing is proven against it: the best strategy may have done so, or the quiz itself said it."""
        return self.at_least <= RIGHT or not self.own


_NOTHING = (0.0, 0.0, 0.0, 0.0, None)
RIGHT = 0.05
"""Money; a decision that costs no more than that beyond the best counts as right."""


def choice_of(event: Paid) -> Choice:
    """Return the choice that led to `event`."""
    match event:
        case Tested():
            return Choice(Kind.TEST, event.test)
        case Corrected():
            return Choice(Kind.CORRECT, event.cause, event.sure)
        case Advised():
            return Choice(Kind.ADVISE, event.cause, event.sure)
        case Referred():
            return Choice(Kind.REFER)
        case Moved():
            return Choice(Kind(event.kind), event.id)
        case Hinted():
            return Choice(Kind.HINT)


def decision(
    played: Round, before: State, event: Event, place: int = 0, out_of_time: Callable[[], bool] = never,
) -> Decision | None:
    """Return the score of the decision that led from `before` to `event`; None where it was none.

    No decisions are what was refused, unsafe acts (counted for themselves), stopping, and a hint that is told again;
    nor is anything scored that follows answers which no cause of the complaint can give. To refer a car with a danger
    found is always right. Where the quiz itself has told what to do (the tree, a hint), who did that does not answer
    for it.
    out_of_time : asked while strategies are searched; where it cuts the search short, the limits stand apart.
    """
    if not isinstance(event, Moved | Tested | Corrected | Advised | Referred | Hinted) or not before.case.total:
        return None
    if isinstance(event, Hinted) and not event.minutes:
        return None  # told again
    choice = choice_of(event)
    if before.danger is not None:
        return Decision(place, choice, event.minutes, event.money, 0.0, 0.0, 0.0, 0.0, Act("refer"))
    found = _weighed(played, before, event, Decision(place, choice, event.minutes, event.money, *_NOTHING), out_of_time)
    led = _led(played, before, event)
    hinted = not led and _told(played, before, event, hint=True)
    looks = not (led or hinted) and _looks_for_danger(played, before, event)
    return replace(found, as_the_tree_says=led, as_hinted=hinted, for_danger=looks)


def _looks_for_danger(played: Round, before: State, event: Event) -> bool:
    return isinstance(event, Tested) and event.test not in before.outcomes and bool(played.walk.test(event.test).stop)


def _led(played: Round, before: State, event: Event) -> bool:
    """Return whether a guided round led to this act; how sure the trainee was is not the tree's."""
    if not played.mode.guide:
        return False
    act = due(played, before)
    if act is not None and on_the_way(played, before.arrangement, event, act):
        return True
    return _told(played, before, event, hint=False)


def _told(played: Round, before: State, event: Event, *, hint: bool) -> bool:
    word = before.word
    return word is not None and word.hint is hint and on_the_way(played, before.arrangement, event, word.act)


def _weighed(
    played: Round, before: State, event: Paid, bare: Decision, out_of_time: Callable[[], bool]
) -> Decision:
    """Return the decision with what it cost beyond the best strategy from `before`."""
    played.solver.known(before.case)  # one arrangement after the other: the solver must learn each with all behind it
    ahead = _ahead(played, before, event)
    total = before.case.total
    if ahead.states == (before.case,):  # nothing has changed but the bill: known exactly, whatever the best strategy is
        lost = ahead.cost / total
        best_there = played.solver.act(before.case)
        return replace(
            bare, regret=lost, at_least=lost, at_most=lost, regret_minutes=ahead.minutes / total, best=best_there
        )
    for state in ahead.states:
        played.solver.known(state)
    own, *after = played.solver.values((before.case, *ahead.states), out_of_time)
    upper = ahead.cost + sum(bounds.upper for bounds in after)
    lower = ahead.cost + sum(bounds.lower for bounds in after)
    best = min(own.upper, upper)  # the act itself is one of the policies that can be followed
    at_most = min(max(0.0, upper - min(own.lower, best)), ahead.wasted)
    return replace(
        bare,
        regret=min(upper - best, at_most) / total,
        at_least=min(max(0.0, lower - best), at_most) / total,
        at_most=at_most / total,
        # An act as good as anything known is itself the beginning of the best strategy, however long it takes.
        regret_minutes=0.0 if upper <= own.upper else _minutes(played, before, ahead),
        best=played.solver.act(before.case),
    )


def judged(
    played: Round, events: tuple[Event, ...], allow: Callable[[], Callable[[], bool]] = lambda: never
) -> tuple[State, tuple[Decision, ...]]:
    """Return where `events` lead and the score of each decision among them.

    allow : called once a decision; returns its `out_of_time`.
    """
    state, found = start(played), []
    for place, event in enumerate(events):
        one = decision(played, state, event, place, allow())
        if one is not None:
            found.append(one)
        state = step(played, state, event)
    return state, tuple(found)


@dataclass(frozen=True, slots=True)
class _Ahead:
    """What an act costs now and where it may lead, over all cars of the state. [money, min]

    wasted : what it costs if nothing of it is of use and all of it must be undone; the best strategy can go on then as
        if it had not been, so no regret is above that. Infinite for what ends the case.
    """

    cost: float
    minutes: float
    states: tuple[plan.State, ...] = ()
    wasted: float = inf


def _ahead(played: Round, before: State, event: Paid) -> _Ahead:
    case, total = before.case, before.case.total
    match event:
        case Tested():
            paid = event.money * total, event.minutes * total
            number = played.test_numbers.get(event.test)
            if number is None or number not in case.tests_left:
                return _Ahead(*paid, (case,))  # done before, or about other complaints: nothing new
            return _Ahead(*paid, played.solver.after(case, Act("test", event.test)), paid[0])
        case Moved():
            there = step(played, before, event).arrangement
            cost = event.money * total
            undone = cost + total * _undoing(played, there, case.arrangement)
            return _Ahead(cost, event.minutes * total, (replace(case, arrangement=there),), undone)
        case Hinted():
            return _Ahead(event.money * total, event.minutes * total, (case,))
        case Corrected():
            act = Act("correct", event.cause)
            # The work is judged, not the name it was done under: it mends every cause that asks for the same.
            hit = sum(case.weights[played.cause_numbers[cause]] for cause in played.mended_by(event.cause))
            one = played.solver.step(case, act)
            cost, minutes = total * one.cost + hit * one.solved_cost, total * one.minutes + hit * one.solved_minutes
            played.solver.after(case, act)  # the solver learns the way there
            failed = after_vain_work(played, case, event.cause)
            undone = cost + failed.total * _undoing(played, failed.arrangement, case.arrangement)
            return _Ahead(cost, minutes, (failed,), undone)
        case Advised():
            one, hit = (
                played.solver.step(case, Act("advise", event.cause)), case.weights[played.cause_numbers[event.cause]]
            )
            return _Ahead(total * one.cost + (total - hit) * one.wrong_cost, total * one.minutes)
        case Referred():
            return _Ahead(event.money * total, event.minutes * total)


def _undoing(played: Round, now: Arrangement, wanted: Arrangement) -> float:
    """Return what it costs one car to be brought from `now` back to `wanted`. [money]"""
    layout = played.problem.layout
    wants = [Need(Power.DEAD if wanted.dead else Power.ANY, wanted.open)]
    if now.dead and not wanted.dead:
        wants.insert(0, LIVE)
    minutes = 0.0
    for want in wants:
        moves = layout.moves(now, want)
        minutes, now = minutes + minutes_of(moves), layout.after(now, moves)
    minutes += sum(layout.access[access].close for access in now.open - wanted.open)
    return played.problem.money(minutes)


def _minutes(played: Round, before: State, ahead: _Ahead) -> float:
    """Return the act's bay minutes and those of the policy after it, less those of the policy from here; per car."""
    after = sum(_policy_minutes(played, state) for state in ahead.states)
    return (ahead.minutes + after - _policy_minutes(played, before.case)) / before.case.total


def _policy_minutes(played: Round, case: plan.State) -> float:
    """Return the minutes of the best policy from `case`, over all its cars; a better policy found since counts anew."""
    known = played.policy_minutes
    key = case, played.solver.known(case).upper
    if key not in known:
        known[key] = played.solver.outlook(case).minutes
    return known[key]
