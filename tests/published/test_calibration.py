"""Scores of stated chances against values that the general-purpose library scikit-learn gives.

The four-group example and the three cases are constructed; `brier_score_loss` and `log_loss` of scikit-learn 1.9 give
the values printed here, and are asked again where that library is installed. The parts are Murphy's (1973).
"""

from __future__ import annotations

from math import inf, log

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import WrongUse
from diagtree.reason.calibration import log_loss, two_class
from diagtree.reason.evidence import Answered, posterior, telling
from tests.documents import words
from tests.strategies import documents

CHANCES = [0.1] * 4 + [0.5] * 2 + [0.9] * 4
CAME_TRUE = [False, False, False, True, True, False, True, True, True, False]
THREE = [{"1": 0.6, "2": 0.3, "3": 0.1}, {"1": 0.2, "2": 0.5, "3": 0.3}, {"1": 0.1, "2": 0.8, "3": 0.1}]
TRUE = ["1", "3", "2"]


def as_two(chances: list[float]) -> list[dict[str, float]]:
    return [{"yes": chance, "no": 1 - chance} for chance in chances]


def test_brier_of_two_classes_and_its_parts() -> None:
    """Murphy 1973: 0.218 = 0.018 - 0.050 + 0.250."""
    parts = two_class(CHANCES, CAME_TRUE)
    assert (parts.reliability, parts.resolution, parts.uncertainty) == pytest.approx((0.018, 0.050, 0.250))
    assert parts.score == pytest.approx(0.218)
    true = ["yes" if came else "no" for came in CAME_TRUE]
    assert log_loss(as_two(CHANCES), true) == pytest.approx(0.662363, abs=5e-7)


def test_log_loss_of_three_causes() -> None:
    assert log_loss(THREE, TRUE) == pytest.approx(0.645981, abs=5e-7)


def test_the_same_by_scikit_learn() -> None:
    metrics = pytest.importorskip("sklearn.metrics")
    assert metrics.brier_score_loss(CAME_TRUE, CHANCES) == pytest.approx(two_class(CHANCES, CAME_TRUE).score)
    rows = [[chances[cause] for cause in ("1", "2", "3")] for chances in THREE]
    assert metrics.log_loss(TRUE, rows) == pytest.approx(log_loss(THREE, TRUE))


def test_what_was_held_impossible_and_came_true_costs_without_end() -> None:
    assert log_loss([{"1": 1.0, "2": 0.0}], ["2"]) == inf
    assert log_loss([{"1": 1.0}], ["2"]) == inf


@pytest.mark.parametrize(("stated", "true"), [([], []), (THREE, TRUE[:2])])
def test_cases_without_a_statement_are_refused(stated: list[dict[str, float]], true: list[str]) -> None:
    with pytest.raises(WrongUse, match="each case needs one"):
        log_loss(stated, true)


@settings(deadline=None, max_examples=60)
@given(documents(max_causes=4, max_tests=1), st.data())
def test_no_test_makes_the_posterior_worse_on_average(document: object, data: st.DataObject) -> None:
    """A proper score (Good 1952): over all cars and outcomes by their chances, evidence never costs anything, and
    stating the shares as they were costs exactly their own entropy."""
    known = words(document)  # type: ignore[arg-type]
    test = known.catalogue.tests[data.draw(st.sampled_from(sorted(known.catalogue.tests)))]
    before = posterior(known.tree.causes, [], known.catalogue).chances
    alive = [cause for cause, chance in before.items() if chance > 0]
    told = telling(before, test, known.catalogue)
    with_test = 0.0
    for outcome, chance in told.outcomes.items():
        if chance > 0:
            after = posterior(known.tree.causes, [Answered(test.id, outcome)], known.catalogue).chances
            with_test += chance * sum(after[cause] * log_loss([after], [cause]) for cause in alive if after[cause])
    without = sum(before[cause] * log_loss([before], [cause]) for cause in alive)
    assert without == pytest.approx(-sum(before[cause] * log(before[cause]) for cause in alive))
    assert with_test <= without + 1e-12


def test_the_oil_wildcatter() -> None:
    """Raiffa, Decision Analysis (1968): soundings before drilling; figures as in most textbooks.

    Dry, wet, soaking .5 .3 .2; drilling pays -70, 50, 200; soundings cost 10. Drilling blind 20; with the soundings
    free 32.5, bought 22.5; with perfect information 55, of which 35 are its value.
    """
    needs = {"place": "reception", "minutes": 0, "outcomes": ["diffuse", "open", "closed"], "healthy": "diffuse"}
    shows = {"dry": (60, 30, 10), "wet": (30, 40, 30), "soaking": (10, 40, 50)}
    known = words({
        "tests": {"soundings": {"ask": "?", "mistake": 0, "source": "as published", **needs}},
        "causes": {
            state: {
                "name": state, "where": "outside", "advise": {"do": "Nothing.", "minutes": 0},
                "shows": {"soundings": dict(zip(needs["outcomes"], chances, strict=True))},
            }
            for state, chances in shows.items()
        },
        "house": {"rate": 60, "comeback": 0, "referral": None},
        "tree": {
            "tree": "oil", "title": "Oil", "revision": 1, "causes": {"dry": 5, "wet": 3, "soaking": 2},
            "start": "soundings", "steps": {"soundings": {"then": {}}},
        },
    })
    pays = {"dry": -70.0, "wet": 50.0, "soaking": 200.0}
    before = posterior(known.tree.causes, [], known.catalogue).chances
    told = telling(before, known.catalogue.tests["soundings"], known.catalogue)
    drilling = {
        outcome: sum(chance * pays[state] for state, chance in after.items())
        for outcome, after in told.posterior.items()
    }
    assert sum(before[state] * pays[state] for state in pays) == pytest.approx(20)
    assert drilling == pytest.approx({"diffuse": -30.4878, "open": 32.8571, "closed": 87.5}, abs=5e-5)
    free = sum(told.outcomes[outcome] * max(0.0, value) for outcome, value in drilling.items())
    assert free == pytest.approx(32.5)
    assert free - 10 == pytest.approx(22.5)
    assert sum(before[state] * max(0.0, pays[state]) for state in pays) - 20 == pytest.approx(35)
