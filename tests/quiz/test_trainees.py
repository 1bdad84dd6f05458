"""Simulated trainees rank as they should over 300 rounds, and accounts say what happened."""

from __future__ import annotations

import re
from functools import cache, partial
from math import sqrt

import pytest

from diagtree.knowledge.files import load
from diagtree.quiz.choices import read_choice
from diagtree.quiz.events import Event
from diagtree.quiz.respond import respond
from diagtree.quiz.result import Result, account, points
from diagtree.quiz.round import Round, deal
from diagtree.quiz.state import ADVISED, STOPPED, UNSAFE, start, step
from diagtree.quiz.trainees import TRAINEES, play, yardstick
from diagtree.reason.plan import Solver, State
from diagtree.walk.context import Walk
from tests.documents import MAKE_SAFE_STEPS, Document
from tests.quiz.rounds import walk_of

ROUNDS = 300

HOUSE: Document = {
    "tests": {
        "swap": {"ask": "On another point?", "place": "reception", "minutes": 5, "outcomes": ["charges", "fails"],
                 "healthy": "fails", "mistake": 5, "source": "made up"},
        "ohms": {"ask": "Resistance?", "place": "bay", "minutes": 6, "outcomes": ["open", "fine"],
                 "needs": {"power": "dead", "open": ["cover"]}, "healthy": "fine", "mistake": 3, "source": "made up"},
        "code": {"ask": "Code?", "place": "bay", "minutes": 8, "outcomes": ["sensor", "charger", "none"],
                 "needs": {"power": "live"}, "healthy": "none", "mistake": 4, "source": "made up"},
        "volts": {"ask": "Volts at the charger?", "place": "bay", "minutes": 9, "outcomes": ["absent", "there"],
                  "needs": {"power": "live"}, "healthy": "there", "mistake": 2, "source": "made up"},
    },
    "causes": {
        "sensor": {"name": "a broken sensor", "where": "inlet",
                   "shows": {"ohms": {"open": 95, "fine": 5}, "code": {"sensor": 70, "none": 30}},
                   "correction": {"do": "Renew the inlet.", "minutes": 120, "parts": [{"name": "inlet", "price": 900}],
                                  "needs": {"power": "dead", "open": ["cover"]}},
                   "proof": {"charge": "ac", "minutes": 8, "attended": 5}},
        "charger": {"name": "a broken charger", "where": "charger",
                    "shows": {"code": {"charger": 80, "none": 20}, "volts": {"absent": 60, "there": 40}},
                    "correction": {"do": "Renew the charger.", "minutes": 150,
                                   "parts": [{"name": "charger", "price": 1600}],
                                   "needs": {"power": "dead", "open": ["cover"]}},
                    "proof": {"charge": "ac", "minutes": 8, "attended": 5}},
        "wire": {"name": "a broken wire", "where": "wiring",
                 "shows": {"volts": {"absent": 95, "there": 5}, "code": {"sensor": 20, "charger": 10, "none": 70}},
                 "correction": {"do": "Mend the wire.", "minutes": 60, "needs": {"power": "dead", "open": ["seat"]}},
                 "proof": {"charge": "ac", "minutes": 8, "attended": 5}},
        "point": {"name": "a faulty charge point", "where": "outside", "shows": {"swap": {"charges": 97, "fails": 3}},
                  "advise": {"do": "Call the installer.", "minutes": 10}},
    },
    "access": {
        "seat": {"name": "rear seat", "open": 20, "close": 20},
        "cover": {"name": "cover", "after": ["seat"], "open": 5, "close": 8, "power": "dead"},
    },
    "procedures": {
        "make-safe": {"minutes": 25, "steps": MAKE_SAFE_STEPS},
        "re-energise": {"minutes": 10, "steps": [{"kind": "re-energise", "do": "Close it."}]},
        "hand-back": {"minutes": 10, "steps": [{"kind": "hand-back", "do": "Look."}]},
    },
    "house": {"rate": 96, "referral": 1500, "comeback": 1600},
    "tree": {"tree": "t", "title": "Does not charge", "revision": 1, "hears": ["does not charge"],
             "causes": {"sensor": 25, "charger": 15, "wire": 20, "point": 40}, "start": "code",
             "steps": {
                 "code": {"then": {"sensor": "ohms", "charger": {"conclude": "charger"}, "none": "swap"}},
                 "ohms": {"then": {"open": {"conclude": "sensor"}, "fine": "swap"}},
                 "swap": {"then": {"charges": {"conclude": "point"}, "fails": "volts"}},
                 "volts": {"then": {"absent": {"conclude": "wire"}, "there": {"conclude": "sensor"}}},
             }},
}  # fmt: skip


MINUTES: dict[tuple[State, float], float] = {}


@cache
def solver() -> Solver:
    return Solver(dealt("0").problem)


def dealt(seed: str) -> Round:
    return deal(_walk(), seed)


@cache
def _walk():
    return walk_of(HOUSE)


@cache
def sat(trainee: str) -> tuple[tuple[tuple[Event, ...], Result], ...]:
    """Return the rounds of one simulated trainee with their accounts: the same 300 cars for each."""
    found = []
    known: dict[object, Result] = {}  # cars that went the same way have the same account
    for number in range(ROUNDS):
        here = dealt(f"car {number}")
        # One knowledge: what was searched for one car serves the others.
        here.__dict__.update(solver=solver(), policy_minutes=MINUTES)
        events = play(here, TRAINEES[trainee])
        key = (here.dealt.cause, here.dealt.told, *(str(event) for event in events[1:]))
        if key not in known:
            known[key] = account(here, events)
        found.append((events, known[key]))
    return tuple(found)


def mean(values: list[float]) -> float:
    return sum(values) / len(values)


def test_trainees_rank_by_regret_and_by_points():
    regret = {name: mean([result.regret for _, result in sat(name)]) for name in TRAINEES}
    marks = {name: mean([result.points or 0.0 for _, result in sat(name)]) for name in TRAINEES}
    assert regret["best"] == pytest.approx(0.0, abs=1e-9)
    assert marks["best"] == pytest.approx(100.0)
    assert regret["best"] < min(regret["greedy"], regret["tree-follower"])
    assert max(regret["greedy"], regret["tree-follower"]) < regret["random"] / 2
    assert marks["random"] < min(marks["greedy"], marks["tree-follower"]) <= marks["best"]


def test_money_ranks_too_but_less_clearly():
    """Luck is in it: the best does not win every round, though it does on average."""
    money = {name: [result.money for _, result in sat(name)] for name in TRAINEES}
    assert mean(money["best"]) < min(mean(money["tree-follower"]), mean(money["random"]))
    assert any(other < own for own, other in zip(money["best"], money["random"], strict=True))


@pytest.mark.parametrize("name", TRAINEES)
def test_luck_evens_out(name: str):
    """Mean luck is nothing but chance: within four standard errors of zero, whoever plays."""
    lucks = [result.luck for _, result in sat(name)]
    middle = mean(lucks)
    spread = sqrt(sum((luck - middle) ** 2 for luck in lucks) / (len(lucks) - 1))
    assert abs(middle) < 4 * spread / sqrt(len(lucks))
    assert all(result.luck == pytest.approx(result.money - result.expected - result.regret) for _, result in sat(name))


@pytest.mark.parametrize("name", TRAINEES)
def test_limits_of_exact_strategies_meet(name: str):
    for _, result in sat(name):
        assert result.at_least <= result.regret + 1e-9
        assert result.regret <= result.at_most + 1e-9
        assert result.at_most - result.at_least < 1e-6
        assert result.expected == pytest.approx(result.expected_at_least)


def test_a_lucky_guess_scores_as_the_guess_that_it_was():
    """Among random rounds, those that hit at the first guess and those that missed lost the same by that decision."""
    first: dict[object, set[float]] = {}  # by what the owner had said, and the act
    lucky = 0
    for events, result in sat("random"):
        if result.decisions and result.decisions[0].place == 1:
            case = str(events[0].told), result.decisions[0].choice.words  # type: ignore[union-attr]
            first.setdefault(case, set()).add(round(result.decisions[0].regret, 6))
            lucky += result.ended == ADVISED and len(events) == 2 and result.statements[0].came_true
    assert lucky > 3
    assert all(len(regrets) == 1 for regrets in first.values())


def test_the_dearest_decision_is_named_with_what_is_better():
    named = [result.dearest for _, result in sat("random") if result.dearest is not None]
    assert len(named) > ROUNDS / 2
    for one in named:
        assert one.proven
        assert one.decision.at_least > 0.05
        act, _, why = one.better.partition(": ")
        assert act.split(", on the way to ")[0] != one.decision.choice.words
        assert re.search(r"takes \d|stands at|ends the case", why)
    assert all(result.dearest is None for _, result in sat("best"))


def test_decisions_told_one_by_one_are_not_searched_again():
    events, whole = sat("random")[0]
    here = dealt("car 0")
    here.__dict__.update(solver=solver(), policy_minutes=MINUTES)
    again = account(here, events, known=whole.decisions)
    assert again.decisions is whole.decisions
    assert again.regret == whole.regret
    assert again.dearest == whole.dearest


def test_a_yardstick_is_what_another_would_have_spent_on_the_same_car():
    for number in (0, 7, 11):
        result = sat("tree-follower")[number][1]
        assert yardstick(dealt(f"car {number}"), TRAINEES["tree-follower"]) == (result.money, result.minutes)


def test_points():
    assert points("fixed", 200.0, 0.0) == 100.0
    assert points("fixed", 200.0, 200.0) == 50.0
    assert points(UNSAFE, 200.0, 0.0) == 0.0
    assert points(STOPPED, 200.0, 0.0) is None
    assert points(None, 200.0, 0.0) is None
    assert points("advised", 0.0, 0.0) == 100.0


def test_where_time_is_short_the_score_says_how_much_is_proven():
    """Nothing searched at all: the limits stand apart, hold the exact regret between them, and are shown."""
    events, exact = sat("random")[0]
    rough = account(dealt("car 0"), events, allow=lambda: partial(bool, 1))
    for quick, found in zip(rough.decisions, exact.decisions, strict=True):
        assert quick.at_least <= found.regret + 1e-9
        assert found.regret <= quick.at_most + 1e-9


def test_what_is_not_proven_is_named_as_such():
    """Hardly any search: a needless move is dear by the figures, and said to be unproven; a hint is known exactly."""
    here = deal(Walk.begin(load(), "ac-fails-dc-works", "petrel-2"), "1")
    events: list[Event] = [here.dealt]
    state = start(here)
    for text in ("open undertray", "hint"):
        events.append(respond(here, state, read_choice(text), lambda: True))
        state = step(here, state, events[-1])
    moved, hinted = account(here, events, lambda: lambda: True).decisions
    assert hinted.regret == hinted.at_least == hinted.at_most == pytest.approx(16.0)
    assert moved.gap > 0
    alone = account(here, events[:2], lambda: lambda: True).dearest
    assert alone is not None
    assert not alone.proven
    both = account(here, events, lambda: lambda: True).dearest
    assert both is not None
    assert both.decision.choice.words == "open undertray"  # a hint, however surely paid, is no decision at the car
