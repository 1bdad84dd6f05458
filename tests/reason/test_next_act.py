"""The next act: ranked values, the present case, impossible situations, before the part is ordered, shared access."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from diagtree.reason.arrangement import START, Arrangement, Layout
from diagtree.reason.evidence import Answered
from diagtree.reason.first_advice import FirstAdvice
from diagtree.reason.next_act import before_order, clearly_dearer, first_acts, next_acts, present, undecided
from diagtree.reason.next_words import why_words
from diagtree.reason.plan import Act, ActValue, Bounds, Solver
from diagtree.reason.plan_costs import Step
from diagtree.reason.sharing import sharing
from tests.documents import words
from tests.oracles.expectimax import Expectimax
from tests.strategies import documents

SOME = settings(deadline=None, max_examples=60, suppress_health_check=list(HealthCheck))


def workshop(**house: Any) -> dict[str, Any]:
    """Return two causes (a dear harness, a cheap sensor), a test behind a cover that parts them, one that does not."""
    needs = {"power": "dead", "open": ["cover"]}
    test = {"place": "bay", "minutes": 6, "needs": needs, "outcomes": ["fine", "bad"], "healthy": "fine", "mistake": 0}
    proof = {"charge": "ac", "minutes": 10}
    work = {"do": "Replace it.", "minutes": 60, "needs": {"power": "dead", "open": ["cover"]}}
    return {
        "tests": {
            "ohms": {"ask": "?", "source": "made up", **test},
            "looks": {"ask": "?", "source": "made up", **test},
        },
        "causes": {
            "harness": {
                "name": "harness", "where": "inlet", "shows": {"ohms": {"bad": 100}},
                "correction": work | {"parts": [{"name": "harness", "price": 1450}]}, "proof": proof,
            },
            "sensor": {
                "name": "sensor", "where": "inlet", "shows": {"ohms": {"fine": 100}},
                "correction": work | {"parts": [{"name": "sensor", "price": 20}]}, "proof": proof,
            },
        },
        "access": {"cover": {"name": "cover", "open": 10, "close": 10, "power": "dead"}},
        "procedures": {"make-safe": {"minutes": 25, "steps": []}, "re-energise": {"minutes": 10, "steps": []}},
        "house": {"rate": 60, "referral": None, "comeback": 0} | house,
        "tree": {
            "tree": "t", "title": "T", "revision": 1, "causes": {"harness": 78, "sensor": 22}, "start": "ohms",
            "steps": {"ohms": {"then": {"fine": {"conclude": "sensor"}, "bad": {"conclude": "harness"}}}},
        },
    }


@pytest.mark.parametrize("mistake", [0, 40, 42])
def test_of_equally_good_acts_the_test_comes_first_though_rounding_makes_it_dearer(mistake: float) -> None:
    """A question that costs nothing, and after every answer the car is given away: as good as doing so at once."""
    document = workshop(referral=30)
    asked = {"place": "reception", "minutes": 0, "outcomes": ["yes", "no"], "healthy": "no", "mistake": mistake}
    document["tests"] = {"asked": {"ask": "?", "source": "made up", **asked}}
    document["causes"]["harness"]["shows"] = {"asked": {"yes": 85, "no": 15}}
    document["causes"]["sensor"]["shows"] = {}
    ends = {"yes": {"conclude": "harness"}, "no": {"conclude": "sensor"}}
    document["tree"] |= {"start": "asked", "steps": {"asked": {"then": ends}}}
    known = words(document)
    case = present(known.tree, known.catalogue, known.house, [])
    solver = Solver(case.problem)
    assert solver.solve().first_act == Act("test", "asked")
    assert next_acts(case, solver)[0].id == "asked"
    assert first_acts(case, FirstAdvice(case.problem))[0].id == "asked"


def test_the_first_act_by_hand() -> None:
    """Test first: 25 + 10 + 6, then the right correction alone: 60 + 10 + 10 + 10 and its part, from dead and open."""
    known = words(workshop())
    case = present(known.tree, known.catalogue, known.house, [])
    acts = next_acts(case, Solver(case.problem))
    best = acts[0]
    assert (best.kind, best.id) == ("test", "ohms")
    assert (best.minutes, best.money) == (41, 41)
    assert best.expected_cost == best.at_least == pytest.approx(41 + 90 + 0.78 * 1450 + 0.22 * 20)
    assert [(after.outcome, after.chance) for after in best.after] == [
        ("fine", pytest.approx(0.22)), ("bad", pytest.approx(0.78)),
    ]
    assert best.after[1].then is not None
    assert best.after[1].then.id == "harness"
    assert "41 min; fine (22 %) puts sensor at 100 % before harness" in best.why
    assert best.why.endswith("before `correct sensor`.")


def test_small_differences_are_told_as_small() -> None:
    ohms, looks = Act("test", "ohms"), Act("test", "looks")
    values = [ActValue(ohms, Bounds(50.0, 100.0)), ActValue(looks, Bounds(50.0, 100.4))]
    chances, step = {"sensor": 0.990, "harness": 0.010}, Step(6.0, 6.0, 0)
    after = [("fine", 0.97, {"sensor": 0.993, "harness": 0.007}), ("bad", 0.03, {"sensor": 0.800, "harness": 0.200})]
    first, second = (why_words(act, chances, after, step, values, 1.0) for act in (ohms, looks))
    assert first.endswith("; cheapest on the whole, by less than 1 before `test looks`.")
    moved = "6 min; bad (3 %) moves sensor from 99 % to 80 %"
    assert second == f"{moved}; on the whole less than 1 dearer than `test ohms`."
    alike = [("fine", 1.0, {"sensor": 0.991, "harness": 0.009})]
    assert why_words(ohms, chances, alike, step, values, 1.0).startswith("6 min; fine (100 %) leaves sensor at 99 %;")


def test_before_the_part_is_ordered() -> None:
    known = words(workshop())
    case = present(known.tree, known.catalogue, known.house, [])
    acts = next_acts(case, Solver(case.problem))
    found = before_order(acts, case, "harness")
    assert found is not None
    assert (found.test, found.minutes) == ("ohms", 41)
    assert found.words.startswith("1,450 at 78 %: `ohms` (41 min) could overturn it")
    # Against the cheapest way without a test: the sensor first (in vain in 78 of 100), then the harness.
    sensor = 25 + 10 + 60 + 10 + 10 + 10 + 20 + 0.78 * (25 + 10 + 60 + 10 + 10 + 10 + 1450)
    assert found.saves == pytest.approx(sensor - (41 + 90 + 0.78 * 1450 + 0.22 * 20))
    known_after = present(known.tree, known.catalogue, known.house, [Answered("ohms", "bad")])
    acts = next_acts(known_after, Solver(known_after.problem))
    assert before_order(acts, known_after, "harness") is None
    assert not undecided(acts, "harness")


def test_tests_that_share_an_open_access_are_priced_now_and_later() -> None:
    known = words(workshop())
    open_now = Arrangement(dead=True, open=frozenset({"cover"}))
    layout, tests = Layout.of(known.catalogue), known.catalogue.tests.values()
    # Now the 6 minutes of the test; later make safe, open, test: 25 + 10 + 6, at 60 an hour.
    found = [(one.test, one.now, one.later) for one in sharing(tests, layout, known.house, open_now)]
    assert found == [("looks", 6, 41), ("ohms", 6, 41)]
    assert sharing(tests, layout, known.house, open_now, "cover") == sharing(tests, layout, known.house, open_now)
    assert sharing(tests, layout, known.house, START) == ()


def test_the_tree_says_a_and_the_evidence_says_b() -> None:
    known = words(workshop())
    case = present(known.tree, known.catalogue, known.house, [])
    acts = next_acts(case, Solver(case.problem))
    better = clearly_dearer(acts, "correct", "harness")
    assert better is not None
    assert better.id == "ohms"
    assert clearly_dearer(acts, "test", "ohms") is None


def test_impossible_answers_get_a_word_and_a_sensible_act() -> None:
    known = words(workshop())
    case = present(known.tree, known.catalogue, known.house, [Answered("ohms", "bad"), Answered("looks", "bad")])
    assert case.belief.impossible
    assert "No cause of this tree can have given these answers" in case.doubt
    acts = next_acts(case, Solver(case.problem))
    assert (acts[0].kind, acts[0].id) == ("correct", "harness")  # `ohms` still says more than `looks`


def test_all_corrections_in_vain_leaves_the_referral_and_says_so() -> None:
    known = words(workshop(referral=250))
    case = present(known.tree, known.catalogue, known.house, [], struck=["harness", "sensor"])
    assert first_acts(case, FirstAdvice(case.problem)) == next_acts(case, Solver(case.problem))
    assert "struck out" in case.doubt
    assert [(act.kind, act.expected_cost) for act in next_acts(case, Solver(case.problem))] == [("refer", 250)]
    alone = words(workshop())
    case = present(alone.tree, alone.catalogue, alone.house, [], struck=["harness", "sensor"])
    assert next_acts(case, Solver(case.problem)) == ()


@SOME
@given(documents(max_causes=3, max_tests=3), st.data())
def test_values_of_acts_agree_with_the_slow_twin_in_the_middle_of_a_case(document: Any, data: Any) -> None:
    """Evidence, arrangement, used tests and struck causes are those of a case half done."""
    known, slow = words(document), Expectimax(document)
    first = sorted(document["tests"])[0]
    outcome = data.draw(st.sampled_from(document["tests"][first]["outcomes"]))
    correctable = [cause for cause in known.tree.causes if "correction" in document["causes"].get(cause, {})]
    struck = frozenset(data.draw(st.lists(st.sampled_from(correctable), max_size=1))) if correctable else frozenset()
    used = {first: outcome} if first in slow.tests else {}
    assume(slow.total(used, struck))
    now, _ = slow.garage.bring((False, frozenset()), *slow.needs_of_test(first))
    case = present(
        known.tree, known.catalogue, known.house, [Answered(*item) for item in used.items()],
        arrangement=Arrangement(*now), struck=struck,
    )
    weight = float(slow.total(used, struck))
    for act in next_acts(case, Solver(case.problem)):
        twin = float(slow.value((act.kind, act.id), used, struck, now).cost) / weight
        assert act.expected_cost == pytest.approx(twin, rel=1e-9, abs=1e-9)
        assert act.at_least == pytest.approx(twin, rel=1e-9, abs=1e-9)
        assert act.why


def test_a_correction_tried_in_part_and_no_referral_leave_no_act_and_that_is_said() -> None:
    """Neither the search nor the first advice may stumble where nothing is left to do."""
    known = words(workshop())
    case = present(known.tree, known.catalogue, known.house, [Answered("ohms", "bad")], tried=["harness"])
    assert case.stuck == ("harness",)
    assert case.doubt.startswith("No act is left for harness: its correction was tried already")
    assert first_acts(case, FirstAdvice(case.problem)) == next_acts(case, Solver(case.problem)) == ()
    # With a way out there is an act, and nothing to be said.
    with_way_out = words(workshop(referral=250))
    case = present(
        with_way_out.tree, with_way_out.catalogue, with_way_out.house, [Answered("ohms", "bad")], tried=["harness"],
    )
    assert (case.stuck, case.doubt) == ((), "")
    assert [(act.kind, act.expected_cost) for act in next_acts(case, Solver(case.problem))] == [("refer", 250)]


@SOME
@given(documents(max_causes=4, max_tests=4))
def test_the_first_advice_holds_the_true_values_of_all_acts_between_its_limits(document: Any) -> None:
    """One test ahead and two: the further look never gives a wider limit."""
    known = words(document)
    case = present(known.tree, known.catalogue, known.house, [])
    advice = FirstAdvice(case.problem)
    at_once = {(act.kind, act.id): act for act in first_acts(case, advice)}
    further = {(act.kind, act.id): act for act in first_acts(case, advice, out_of_time=lambda: False)}
    true = {(act.kind, act.id): act.expected_cost for act in next_acts(case, Solver(case.problem))}
    assert at_once.keys() == further.keys() == true.keys()
    for key, cost in true.items():
        noise = 1e-9 * abs(cost) + 1e-9
        assert at_once[key].at_least <= further[key].at_least + noise <= cost + 2 * noise
        assert cost <= further[key].expected_cost + noise <= at_once[key].expected_cost + 2 * noise
        assert (at_once[key].minutes, at_once[key].money) == (further[key].minutes, further[key].money)


def test_out_of_time_at_once_the_limits_are_those_of_the_first_advice_or_closer() -> None:
    known = words(workshop(referral=5000, comeback=6000))
    case = present(known.tree, known.catalogue, known.house, [])
    first = {(act.kind, act.id): act for act in first_acts(case, FirstAdvice(case.problem))}
    for act in next_acts(case, Solver(case.problem), out_of_time=lambda: True, too_late=lambda: True):
        assert act.expected_cost <= first[act.kind, act.id].expected_cost * (1 + 1e-12)
        assert act.at_least >= first[act.kind, act.id].at_least * (1 - 1e-12)


@SOME
@given(documents(max_causes=3, max_tests=3))
def test_the_ranking_does_not_depend_on_the_order_in_which_things_are_written(document: Any) -> None:
    known = words(document)
    backwards = replace(known.tree, causes=dict(reversed(known.tree.causes.items())))
    ranked = []
    for tree in (known.tree, backwards):
        case = present(tree, known.catalogue, known.house, [], arrangement=START)
        ranked.append({(act.kind, act.id): act.expected_cost for act in next_acts(case, Solver(case.problem))})
    assert ranked[0] == pytest.approx(ranked[1])


@SOME
@given(documents(max_causes=4, max_tests=4))
def test_the_best_strategy_is_searched_before_all_acts_where_that_is_asked(document: Any) -> None:
    """Then the first act costs what the best strategy costs, though no time is left for the others."""
    known = words(document)
    case = present(known.tree, known.catalogue, known.house, [])
    best = Solver(case.problem).solve(case.state)
    acts = next_acts(case, Solver(case.problem), whole=lambda: False, out_of_time=lambda: True)
    assert acts[0].expected_cost == pytest.approx(best.expected_cost)


@SOME
@given(documents(max_causes=4, max_tests=4))
def test_what_was_told_at_first_is_never_worsened_by_a_search_that_was_cut_short(document: Any) -> None:
    known = words(document)
    case = present(known.tree, known.catalogue, known.house, [])
    advice = FirstAdvice(case.problem)
    first = {(act.kind, act.id): act for act in first_acts(case, advice, out_of_time=lambda: False)}
    searched = next_acts(case, Solver(case.problem), out_of_time=lambda: True, too_late=lambda: True, advice=advice)
    for act in searched:
        assert act.expected_cost <= first[act.kind, act.id].expected_cost * (1 + 1e-12)
        assert act.at_least >= first[act.kind, act.id].at_least * (1 - 1e-12)


def test_a_test_that_only_adds_its_price_is_marked_and_is_no_runner_up() -> None:
    """`looks` tells nothing that counts (51 to 49); `ohms` tells all: the cheap look is idle."""
    document = workshop(referral=5000, comeback=6000)
    for cause, chances in (("harness", {"bad": 51, "fine": 49}), ("sensor", {"bad": 49, "fine": 51})):
        document["causes"][cause]["shows"]["looks"] = chances
    document["tests"]["looks"] |= {"minutes": 1, "place": "reception", "needs": {"power": "any"}}
    known = words(document)
    case = present(known.tree, known.catalogue, known.house, [Answered("ohms", "bad")])
    assert next((act.id, act.idle) for act in next_acts(case, Solver(case.problem))) == ("harness", False)
    case = present(known.tree, known.catalogue, known.house, [])
    acts = {act.id: act for act in next_acts(case, Solver(case.problem))}
    assert acts["looks"].idle
    assert not acts["ohms"].idle
    assert acts["looks"].expected_cost - acts["ohms"].expected_cost == pytest.approx(1)
    assert "`test looks`" not in acts["ohms"].why


def test_what_saves_next_to_nothing_is_not_told_before_an_order() -> None:
    known = words(workshop())
    case = present(known.tree, known.catalogue, known.house, [])
    acts = next_acts(case, Solver(case.problem))
    found = before_order(acts, case, "harness")
    assert found is not None
    cost = acts[0].expected_cost + found.saves - 1
    barely = [replace(act, expected_cost=cost) if act is acts[0] else act for act in acts]
    assert before_order(barely, case, "harness") is None  # one in more than a thousand


@SOME
@given(documents(max_causes=4, max_tests=4))
def test_bettering_the_strategy_keeps_all_limits_true(document: Any) -> None:
    """With no time for a search, what is made better point by point is still the cost of something that can be done."""
    known = words(document)
    case = present(known.tree, known.catalogue, known.house, [])
    true = {(act.kind, act.id): act.expected_cost for act in next_acts(case, Solver(case.problem))}
    bettered = next_acts(case, Solver(case.problem), bettered=lambda: False, out_of_time=lambda: True)
    assert {(act.kind, act.id) for act in bettered} == set(true)
    for act in bettered:
        noise = 1e-9 * abs(act.expected_cost) + 1e-9
        assert act.at_least - noise <= true[act.kind, act.id] <= act.expected_cost + noise
