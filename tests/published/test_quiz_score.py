"""A round's score against an instance solved by two independent methods (dynamic programme, enumeration of policies).

Three causes .5 .3 .2, repair and verification 80, 40, 150; T1 costs 10, P(bad) = .9 .2 .1; T2 costs 15, P(bad) = .1
.8 .3. The optimum is 115.9. Here the whole way is gone: knowledge, dealt car, choices, events, account.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from diagtree.knowledge.library import read_library
from diagtree.quiz.choices import read_choice
from diagtree.quiz.events import Event, Tested
from diagtree.quiz.respond import respond
from diagtree.quiz.result import Result, account, sureness
from diagtree.quiz.round import deal
from diagtree.quiz.score import decision
from diagtree.quiz.state import Statement, start, step
from diagtree.walk.context import Walk
from tests.documents import Document, texts
from tests.published.test_calibration import CAME_TRUE, CHANCES

SHARES = {"1": 50, "2": 30, "3": 20}
PRICES = {"1": 80, "2": 40, "3": 150}
TESTS = {"T1": (10, (90, 20, 10)), "T2": (15, (10, 80, 30))}
NEEDS = {"power": "any"}

THREE: Document = {
    "tests": {
        name: {"ask": "?", "place": "bay", "needs": NEEDS, "minutes": minutes, "outcomes": ["bad", "ok"],
               "healthy": "ok", "mistake": 0, "source": "as published"}
        for name, (minutes, _) in TESTS.items()
    },
    "causes": {
        cause: {
            "name": cause, "where": "wiring",
            "shows": {name: {"bad": bad[place], "ok": 100 - bad[place]} for name, (_, bad) in TESTS.items()},
            "correction": {"do": f"Repair {cause}.", "minutes": 0, "needs": NEEDS,
                           "parts": [{"name": "part", "price": PRICES[cause]}]},
            "proof": {"charge": "ac", "minutes": 0},
        }
        for place, cause in enumerate(SHARES)
    },
    "house": {"rate": 60, "referral": None, "comeback": None},
    "tree": {"tree": "three", "title": "Three causes", "revision": 1, "hears": ["it fails"], "causes": SHARES,
             "start": "T1", "steps": {"T1": {"then": {"bad": {"conclude": "1"}, "ok": {"conclude": "2"}}}}},
}  # fmt: skip


def walk() -> Walk:
    return Walk.begin(read_library(texts(THREE)), "three")


def chance_of_bad(test: str, cause: str) -> float:
    return TESTS[test][1][list(SHARES).index(cause)] / 100


def test_regrets_of_every_first_act() -> None:
    """0, 9.43, 10.1, 14.1, 100.9, whatever is wrong with the car at hand."""
    for cause in SHARES:
        here = deal(walk(), "1", cause=cause)
        first = start(here)
        found = {}
        for text in ("test T1", "test T2", "correct 2 30", "correct 1 50", "correct 3 20"):
            scored = decision(here, first, respond(here, first, read_choice(text)))
            assert scored is not None
            found[text] = scored.regret
        assert list(found.values()) == pytest.approx([0, 9.43, 10.1, 14.1, 100.9], abs=1e-9)


def test_a_worse_plan_costs_the_optimum_plus_its_regrets() -> None:
    """T2 first; bad: repairs 2, 1, 3; ok: 1, 3, 2. On average 131.2 = 115.9 + 15.3."""
    cost = regret = 0.0
    for cause, share in SHARES.items():
        for outcome, order in (("bad", "213"), ("ok", "132")):
            bad = chance_of_bad("T2", cause)
            chance = share / 100 * (bad if outcome == "bad" else 1 - bad)
            result = _played(cause, outcome, order)
            assert result.expected == pytest.approx(115.9, abs=1e-9)
            assert result.luck == pytest.approx(result.money - 115.9 - result.regret)
            cost, regret = cost + chance * result.money, regret + chance * result.regret
    assert cost == pytest.approx(131.2, abs=1e-9)
    assert regret == pytest.approx(15.3, abs=1e-9)


def _played(cause: str, outcome: str, order: Sequence[str]) -> Result:
    here = deal(walk(), "1", cause=cause)
    state = start(here)
    events: list[Event] = [here.dealt]
    for text in ("test T2", *(f"correct {one} 50" for one in order)):
        if state.ended is not None:
            break
        event = respond(here, state, read_choice(text))
        if isinstance(event, Tested):
            event = replace(event, outcome=outcome)
        events.append(event)
        state = step(here, state, event)
    assert state.ended == "fixed"
    return account(here, events)


def test_how_sure_is_scored_as_brier_and_log_loss() -> None:
    """0.218 = 0.018 - 0.050 + 0.250, log loss 0.662363 (scikit-learn; parts after Murphy 1973)."""
    said = [Statement("c", stated, came, stated) for stated, came in zip(CHANCES, CAME_TRUE, strict=True)]
    found = sureness(said)
    assert found is not None
    assert found.two_class.score == pytest.approx(0.218)
    parts = found.two_class
    assert (parts.reliability, parts.resolution, parts.uncertainty) == pytest.approx((0.018, 0.050, 0.250))
    assert found.log_loss == pytest.approx(0.662363, abs=5e-7)
    assert found.evidence == pytest.approx(0.218)
