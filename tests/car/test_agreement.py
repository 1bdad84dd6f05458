"""The catalogue's figures against what simulated cars show, judged as a walk judges it, for every cause that ships.

What is drawn (no number, or a maker's value missing): 1,000 cars a cause and test, chi-square against P(outcome | test,
cause), mistakes included.

What physics reads: 200 cars (1,000 with DIAGTREE_BENCH=full in the environment) of each cause, at four temperatures,
with the noise of the house's meters. The outcomes agree with the stated per cents within sampling error, or the
difference is written down in `differences` with its reason and with what physics shows instead. Not counted as a
difference: outcomes that physics never shows and that have 5 per cent or less in all. They are people's mistakes and
rare other ways in which the cause shows; the catalogue's `mistake` comes on top of them. Nor is what no complaint asks:
a figure counts where some tree lists the cause and its plan may use the test. Fixed seeds throughout.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

import pytest
from scipy.stats import chisquare

from diagtree.knowledge.words import Cause, Test
from diagtree.reason.problem import chance_of
from tests.car.counting import CARS, DRAWN, VEHICLES, asked, concerns, counted, drawn, simulated, simulated_tests, walk
from tests.car.differences import differences

EXPLAINED = {pair: explained for _, pair, explained in differences()}

REST = 5.0
"""Per cent that may rest on outcomes that physics never shows."""
RARE = 0.01
"""Share of the cars that may show what an explanation does not name."""
LEVEL = 0.001
"""Chance of a true agreement to be called a difference, of one cause at one test that physics reads."""
STRICT = 1e-5
"""The same where hundreds of pairs are drawn: together they are wrongly blamed for one catalogue in some hundred."""


def rows() -> list[pytest.param]:  # type: ignore[valid-type]
    return [
        pytest.param(vehicle, cause, test, id=f"{vehicle}-{cause.id}-{test.id}")
        for vehicle in VEHICLES
        for cause in walk(vehicle).catalogue.causes.values() if cause.fault
        for test in simulated_tests(vehicle)
        if concerns(test, cause) and test.id in asked(cause.id) and simulated(vehicle, cause.id, test)
    ]


def stated(cause: Cause, test: Test) -> Mapping[str, float]:
    return cause.shows.get(test.id, {test.healthy: 100.0})


def fits(seen: Counter[str], shares: Mapping[str, float], rest: float = 0.0, level: float = LEVEL) -> bool:
    """Return whether counts come from `shares` (per cent), `rest` of which may be on outcomes that were never seen."""
    if not set(seen) <= {name for name, share in shares.items() if share > 0}:
        return False
    shown = {name: share for name, share in shares.items() if seen[name] or (rest == 0.0 and share > 0)}
    if sum(shares.values()) - sum(shown.values()) > rest + 1e-9:
        return False
    if len(shown) == 1:
        return True
    total = sum(shown.values())
    expected = [sum(seen.values()) * share / total for share in shown.values()]
    return bool(chisquare([seen[name] for name in shown], expected).pvalue >= level)


@pytest.mark.parametrize(("vehicle", "cause", "test"), rows())
def test_physics_agrees_with_the_figures_or_the_difference_is_explained(vehicle: str, cause: Cause, test: Test):
    seen = counted(vehicle, cause.id, test.id)
    explained = EXPLAINED.get((cause.id, test.id))
    if explained is not None and vehicle in explained.physics:
        assert explained.reason
        shares = explained.physics[vehicle]
        least = RARE * sum(seen.values())
        told = Counter({name: count for name, count in seen.items() if name in shares or count > least})
        assert fits(told, shares), f"physics shows {per_cent(seen)}, not what is explained"
        # 200 cars cannot tell a small difference from none.
        told_apart = CARS < 1000 or not fits(seen, stated(cause, test), REST)
        assert told_apart, "it agrees: take the explanation out"
        return
    assert fits(seen, stated(cause, test), REST), (
        f"`{cause.id}` at `{test.id}` on {vehicle}: physics shows {per_cent(seen)}, the catalogue says "
        f"{dict(stated(cause, test))}. Put the figure or the fault right; or, where the figure holds more than the "
        f"fault that is simulated, say so in a file of tests/car/differences: "
        f'("{cause.id}", "{test.id}"): Explained("WHY", {{"{vehicle}": {per_cent(seen)}}})'
    )


def per_cent(seen: Counter[str]) -> dict[str, float]:
    return {outcome: round(100 * count / sum(seen.values()), 1) for outcome, count in seen.items()}


DRAWN_OF = [None, "something-else", *sorted(walk(VEHICLES[0]).catalogue.causes)]


@pytest.mark.parametrize("cause_id", DRAWN_OF)
def test_what_is_drawn_follows_the_figures(cause_id: str | None):
    """1,000 cars of each cause: what it shows by words agrees with P(outcome | test, cause)."""
    catalogue = walk(VEHICLES[0]).catalogue
    cause = catalogue.causes.get(cause_id or "")
    for test in catalogue.tests.values():
        if (cause is not None and test.id not in cause.shows) or simulated(VEHICLES[0], cause_id, test):
            continue
        chances = {name: 100 * _chance(test, cause_id, cause, name) for name in test.outcome_ids()}
        # A car without one of these causes answers every test of the catalogue: fewer cars must do.
        seen = drawn(VEHICLES[0], cause_id, test.id, DRAWN if cause is not None else 300)
        assert fits(seen, chances, level=STRICT), f"`{cause_id}` at `{test.id}`: {per_cent(seen)}, not {chances}"


def _chance(test: Test, cause_id: str | None, cause: Cause | None, outcome: str) -> float:
    if cause_id is not None:
        return chance_of(test, cause, outcome)
    mistake = test.mistake / 100
    return mistake / len(test.outcomes) + (outcome == test.healthy) * (1 - mistake)


@pytest.mark.parametrize("cause_id", DRAWN_OF[2:])
def test_where_a_cause_does_not_show_the_car_answers_as_a_sound_one(cause_id: str):
    """By words, test by test and car by car: the same slips of people, nothing else."""
    catalogue = walk(VEHICLES[0]).catalogue
    for test in catalogue.tests.values():
        if not test.reads and test.id not in catalogue.causes[cause_id].shows:
            assert drawn(VEHICLES[0], cause_id, test.id, 5) == drawn(VEHICLES[0], None, test.id, 5), test.id


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_a_sound_car_shows_the_healthy_outcome_of_every_test(vehicle: str):
    """The healthy outcome of a numeric test holds for a sound car at every temperature, meter's noise and all."""
    for test in simulated_tests(vehicle):
        if not simulated(vehicle, None, test):
            continue
        assert counted(vehicle, None, test.id, 80) == {test.healthy: 80}, test.id


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_a_cause_that_does_not_show_leaves_the_reading_sound(vehicle: str):
    """Physics never shows a fault at a test that neither names the cause nor measures its part."""
    catalogue = walk(vehicle).catalogue
    for cause in catalogue.causes.values():
        for test in simulated_tests(vehicle):
            spoken_of = cause.fault and test.id in asked(cause.id)
            if spoken_of and not concerns(test, cause) and simulated(vehicle, cause.id, test):
                assert counted(vehicle, cause.id, test.id, 4) == {test.healthy: 4}, (cause.id, test.id)


def test_every_cause_shows_somewhere():
    """One that physics does not know (a setting, a program, a control unit) at least in words: no round is hopeless."""
    catalogue = walk(VEHICLES[0]).catalogue
    for cause in catalogue.causes.values():
        unhealthy = [
            test for test, shown in cause.shows.items()
            if any(share > 0 for outcome, share in shown.items() if outcome != catalogue.tests[test].healthy)
        ]
        assert unhealthy, f"`{cause.id}` shows nothing at any test"


def test_no_explanation_is_left_over():
    known = {(cause.id, test.id) for vehicle in VEHICLES for cause in walk(vehicle).catalogue.causes.values()
             for test in simulated_tests(vehicle) if concerns(test, cause)}  # fmt: skip
    assert set(EXPLAINED) <= known


def test_no_difference_is_explained_twice():
    told = [pair for _, pair, _ in differences()]
    assert len(told) == len(set(told))


def test_the_comparison_can_fail():
    """A tenth moved from one outcome to another is seen, and so is an outcome that nobody stated."""
    assert fits(Counter(a=210, b=90), {"a": 70.0, "b": 30.0})
    assert not fits(Counter(a=180, b=120), {"a": 70.0, "b": 30.0})
    assert not fits(Counter(a=299, c=1), {"a": 100.0})
    assert fits(Counter(a=300), {"a": 95.0, "b": 5.0}, REST)
    assert not fits(Counter(a=300), {"a": 94.0, "b": 6.0}, REST)
