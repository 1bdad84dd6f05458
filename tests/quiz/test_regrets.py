"""Regret scores decisions, not luck: what any policy costs is the optimum plus its expected regrets, exactly.

Source: performance difference lemma (Kakade and Langford 2002). Causes and outcomes are enumerated with their exact
chances; the optimum and the tree's price are those of the oracle, which shares no code with the package.
"""

from __future__ import annotations

from hashlib import sha256

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagtree.quiz.choices import Choice, Kind
from diagtree.quiz.events import Dealt, Hinted
from diagtree.quiz.round import Round
from diagtree.quiz.score import decision
from diagtree.quiz.state import State
from diagtree.quiz.trainees import allowed, best, greedy, tree_follower
from diagtree.reason.plan_state import never
from tests.documents import Document
from tests.oracles.expectimax import Expectimax, ListedPaths
from tests.quiz.rounds import Policy, Seen, distinct, happenings, played
from tests.strategies import documents

SMALL = documents(max_causes=3, max_tests=2, max_accesses=3)
SLOW = settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.too_slow])
FREE = 6
"""So many choices are made at random before the best strategy goes on."""


def at_random(seed: int) -> Policy:
    """Return a policy that chooses at random at first, among all that is allowed: useless moves, hints, repeats."""

    def choose(played: Round, state: State, seen: Seen) -> Choice:
        if len(seen.lines) >= FREE:
            return best(played, state, 0)
        found = [*allowed(played, state), Choice(Kind.HINT)]
        found += [
            choice for choice in (Choice(Kind.TEST, test) for test in sorted(state.outcomes))
            if not played.problem.layout.moves(
                state.arrangement, played.problem.layout.need_of(played.walk.test(choice.id or ""))
            )
        ]
        die = int.from_bytes(sha256(f"{seed}{seen.lines}".encode()).digest()[:6], "big")
        going_on = [choice for choice in found if choice.kind not in (Kind.ADVISE, Kind.REFER)]
        some = found if die % 3 == 0 else going_on  # else most rounds would end at once
        return some[die // 3 % len(some)]

    return choose


def followed(trainee: object) -> Policy:
    def choose(played: Round, state: State, seen: Seen) -> Choice:
        return trainee(played, state, len(seen.lines), never)  # type: ignore[operator,no-any-return]

    return choose


def expected(document: Document, policy: Policy) -> tuple[float, float]:
    """Return a policy's expected cost and the expected sum of its regrets."""
    judge = played(document, next(iter(document["tree"]["causes"])))
    cost = regret = 0.0
    for one in happenings(document, policy):
        cost += float(one.chance) * one.money
        for state, event in one.made:
            if isinstance(event, Hinted) and not event.minutes:
                assert event.money == 0.0  # told again: no decision, and no cost
            elif not isinstance(event, Dealt):
                scored = decision(judge, state, event)
                assert scored is not None
                assert scored.gap <= 1e-7 * (1 + scored.money)
                regret += float(one.chance) * scored.regret
    return cost, regret


def optimum(document: Document) -> float:
    oracle = Expectimax(document)
    return float(oracle.best({})[0].cost / sum(oracle.shares.values()))


@SLOW
@given(SMALL, st.integers(0, 10**6))
def test_cost_is_the_optimum_plus_the_expected_regrets(document: Document, seed: int):
    document = distinct(document)
    cost, regret = expected(document, at_random(seed))
    assert cost - optimum(document) == pytest.approx(regret, rel=1e-9, abs=1e-9)


@SLOW
@given(documents(max_causes=4, max_tests=3, max_accesses=3), st.integers(0, 10**6))
def test_limits_found_without_any_search_hold_the_exact_regret(document: Document, seed: int):
    """What is proven in no time at all is true; so is that no act loses more than it costs and to undo it."""
    document = distinct(document)
    quick, exact = played(document), played(document)
    for one in happenings(document, at_random(seed)):
        for state, event in one.made:
            if isinstance(event, Hinted) and not event.minutes:
                continue
            rough, sharp = decision(quick, state, event, 0, lambda: True), decision(exact, state, event)
            assert rough is not None
            assert sharp is not None
            near = 1e-9 * (1 + sharp.money)
            assert rough.at_least - near <= sharp.regret <= rough.at_most + near
            assert rough.at_least <= rough.regret <= rough.at_most


@SLOW
@given(SMALL)
def test_the_best_strategy_has_no_regret_and_costs_the_optimum(document: Document):
    document = distinct(document)
    cost, regret = expected(document, followed(best))
    assert cost == pytest.approx(optimum(document), rel=1e-9, abs=1e-9)
    assert regret == pytest.approx(0.0, abs=1e-9 * (1 + cost))


@SLOW
@given(SMALL)
def test_following_the_tree_costs_the_tree_s_price(document: Document):
    """Act by act, with every cover opened by hand, it comes to what `price` says: the optimum and the regrets."""
    document = distinct(document)
    cost, regret = expected(document, followed(tree_follower))
    assert cost == pytest.approx(float(ListedPaths(document).price()["expected_cost"]), rel=1e-9, abs=1e-9)
    assert cost - optimum(document) == pytest.approx(regret, rel=1e-9, abs=1e-9)


@SLOW
@given(SMALL)
def test_looking_one_step_ahead_is_never_better_than_the_best(document: Document):
    document = distinct(document)
    cost, regret = expected(document, followed(greedy))
    assert regret >= 0.0
    assert cost - optimum(document) == pytest.approx(regret, rel=1e-9, abs=1e-9)
