"""The price of a tree: by hand, its parts add up, what cannot be priced, and states that are taken together."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from diagtree.errors import WrongUse
from diagtree.reason.plan import Act, Solver, start
from diagtree.reason.price import price
from diagtree.reason.price_account import Bookkeeper
from diagtree.reason.problem import compile_problem
from tests.documents import words
from tests.reason.test_next_act import workshop
from tests.strategies import documents

SOME = settings(deadline=None, max_examples=60, suppress_health_check=list(HealthCheck))


def test_a_tree_by_hand() -> None:
    """Make safe 25, cover 10, test 6, correction 60, cover 10, power 10, proof 10; parts; one money a minute."""
    known = words(workshop())
    found = price(known.tree, known.catalogue, known.house)
    assert found.expected_minutes == pytest.approx(131)
    assert found.expected_cost == found.best_cost == found.lower_bound == pytest.approx(131 + 0.78 * 1450 + 0.22 * 20)
    assert found.minutes == pytest.approx({
        "test": 6, "access": 20, "power": 35, "correction": 60, "parts": 0, "proof": 10, "advice": 0, "hand-back": 0,
        "referral": 0, "comeback": 0,
    })
    assert (found.wrong_part, found.right_first) == ({"harness": 0, "sensor": 0}, pytest.approx(1))
    assert found.steps["ohms"].reached == pytest.approx(1)
    assert found.steps["ohms"].regret == 0


def test_a_wrong_conclusion_costs_a_wrong_part_and_the_way_on() -> None:
    document = workshop()
    document["tree"]["steps"]["ohms"]["then"] = {"fine": {"conclude": "harness"}, "bad": {"conclude": "harness"}}
    known = words(document)
    found = price(known.tree, known.catalogue, known.house)
    assert found.wrong_part == pytest.approx({"harness": 0.22, "sensor": 0})
    # In vain for the sensor's cars: 60 + 1450, closed 10, live 10, proof 10; then dead 25 and open 10 once more.
    wasted = 60 + 1450 + 10 + 10 + 10 + 25 + 10
    assert found.expected_cost - found.best_cost == pytest.approx(0.22 * wasted)
    assert found.right_first == pytest.approx(0.78)
    blame = {(ending.step, ending.outcome): ending.figures for ending in found.endings}
    assert blame["ohms", "fine"].regret == pytest.approx(wasted)
    assert blame["ohms", "fine"].reached == pytest.approx(0.22)
    assert blame["ohms", "bad"].regret == 0
    instead = {ending.outcome: ending.instead for ending in found.endings}
    assert instead == {"fine": Act("correct", "sensor"), "bad": None}


@pytest.mark.parametrize(("ending", "referral", "added"), [
    ({"refer": "the charging specialist"}, 250, 250),
    ({"refer": "the charging specialist"}, None, None),
    ({"hand-over": "another-tree"}, 250, None),
])
def test_referral_and_hand_over(ending: dict[str, str], referral: float | None, added: float | None) -> None:
    """Refer is refer where the house sets its cost; else, like a hand-over, the best strategy from there."""
    document = workshop(referral=referral)
    document["tree"]["steps"]["ohms"]["then"]["bad"] = ending
    known = words(document)
    found = price(known.tree, known.catalogue, known.house)
    end = {e.outcome: e.figures.cost for e in found.endings}["bad"]
    put_back = 10 + 10
    by_best = min(60 + 1450 + 10 + 20, put_back + referral if referral is not None else 1e9)
    assert end == pytest.approx(put_back + added if added is not None else by_best)


@SOME
@given(documents(max_causes=3, max_tests=3, stops=True))
def test_the_parts_add_up(document: Any) -> None:
    known = words(document)
    found = price(known.tree, known.catalogue, known.house)
    blamed = sum(step.reached * step.regret for step in found.steps.values())
    blamed += sum(ending.figures.reached * ending.figures.regret for ending in found.endings)
    assert found.expected_cost - found.best_cost == pytest.approx(blamed, rel=1e-7, abs=1e-7)
    assert sum(found.money.values()) == pytest.approx(found.expected_cost)
    assert sum(found.minutes.values()) == pytest.approx(found.expected_minutes)
    assert found.steps[known.tree.start].cost == pytest.approx(found.expected_cost)
    assert sum(ending.figures.reached for ending in found.endings) == pytest.approx(1)
    assert found.lower_bound <= found.best_cost <= found.expected_cost * (1 + 1e-12)
    # Wrong advice or a referral may cost less than the right act: then no cause's own end is a floor.
    if known.house.referral is None and known.house.comeback is None:
        assert found.perfect_information <= found.best_cost * (1 + 1e-12) + 1e-9


@SOME
@given(documents(max_causes=3, max_tests=3))
def test_the_ledger_agrees_with_the_solvers_own_outlook(document: Any) -> None:
    known = words(document)
    problem = compile_problem(known.tree, known.catalogue, known.house)
    solver = Solver(problem)
    books, first = Bookkeeper(solver), start(problem)
    account = books.empty()
    cost, waiting = 0.0, [first]
    while waiting:  # act by act, as somebody would follow it
        state = waiting.pop()
        act = solver.act(state)
        if act is not None:
            cost += books.book(account, state, act)
            waiting.extend(solver.after(state, act))
    outlook, together = solver.outlook(first), books.empty()
    board, node = solver.at(first)
    costs, deeds = board.followed(np.array([node]), np.array([[first.total, 0.0]]))
    assert cost == pytest.approx(outlook.cost)
    assert costs[0] * first.total == pytest.approx(outlook.cost)
    assert sum(books.book(together, state, act) for state, act in deeds) == pytest.approx(cost)
    assert together.right_first == pytest.approx(account.right_first)
    assert together.referred == pytest.approx(account.referred)
    assert sum(account.money.values()) == pytest.approx(outlook.cost)
    assert sum(account.minutes.values()) == pytest.approx(outlook.minutes)
    assert account.wrong_parts == pytest.approx(list(outlook.wrong_parts))
    assert account.comebacks == pytest.approx(outlook.comebacks)


def test_a_test_repeated_on_a_path_is_named() -> None:
    document = workshop()
    document["tree"]["steps"] = {
        "ohms": {"then": {"fine": "once-more", "bad": "looks"}},
        "looks": {"then": {"fine": "once-more", "bad": {"conclude": "harness"}}},
        "once-more": {"test": "ohms", "then": {"fine": {"conclude": "sensor"}, "bad": {"conclude": "harness"}}},
    }
    known = words(document)
    with pytest.raises(WrongUse, match=r"the test `ohms` comes twice on the path ohms > .*once-more"):
        price(known.tree, known.catalogue, known.house)


def test_a_loop_is_named() -> None:
    document = workshop()
    document["tree"]["steps"]["ohms"]["then"]["fine"] = "ohms"
    known = words(document)
    with pytest.raises(WrongUse, match=r"path ohms > ohms repeats the test `ohms`"):
        price(known.tree, known.catalogue, known.house)


def test_a_loop_over_not_done_only_has_no_chance_and_is_priced() -> None:
    document = workshop()
    document["tree"]["steps"]["ohms"]["then"]["not-done"] = "ohms"
    known = words(document)
    assert price(known.tree, known.catalogue, known.house).expected_cost == pytest.approx(131 + 0.78 * 1450 + 0.22 * 20)


@pytest.mark.parametrize(("then", "said"), [
    ({"fine": {"conclude": "sensor"}}, "no branch for the outcome `bad`"),
    ({"fine": {"conclude": "sensor"}, "bad": "nowhere"}, "leads to `nowhere`"),
    ({"fine": {"conclude": "sensor"}, "bad": {"conclude": "unheard-of"}}, "concludes `unheard-of`"),
])
def test_what_cannot_be_priced_is_said(then: dict[str, Any], said: str) -> None:
    document = workshop()
    document["tree"]["steps"]["ohms"]["then"] = then
    known = words(document)
    with pytest.raises(WrongUse, match=said):
        price(known.tree, known.catalogue, known.house)


def test_a_step_that_no_car_reaches_has_zeros() -> None:
    document = workshop()
    document["tree"]["steps"]["looks"] = {"then": {"fine": {"conclude": "sensor"}, "bad": {"conclude": "harness"}}}
    known = words(document)
    looks = price(known.tree, known.catalogue, known.house).steps["looks"]
    assert (looks.reached, looks.cost, looks.regret) == (0, 0, 0)


def test_many_paths_that_say_the_same_are_taken_together() -> None:
    """Twenty tests that part nothing: a million paths, one state a step."""
    document = workshop()
    steps: dict[str, Any] = {}
    for n in range(20):
        document["tests"][f"idle-{n}"] = document["tests"]["looks"] | {
            "place": "reception", "minutes": 1, "mistake": 100, "needs": {"power": "any"},
        }
        onward = f"idle-{n + 1}" if n < 19 else "ohms"
        steps[f"idle-{n}"] = {"then": {"fine": onward, "bad": onward}}
    document["tree"]["steps"] = steps | document["tree"]["steps"]
    document["tree"]["start"] = "idle-0"
    known = words(document)
    found = price(known.tree, known.catalogue, known.house)
    assert found.expected_cost == pytest.approx(20 + 131 + 0.78 * 1450 + 0.22 * 20)
    assert found.steps["idle-7"].regret == pytest.approx(1)
