"""Physics against the catalogue's figures: what simulated cars read, judged as a walk judges it, cause by cause.

Each numeric test of the shipped catalogue is done on 200 cars of each cause, at four temperatures, with the noise of
the house's meters. The outcomes agree with the stated per cents within sampling error (chi-square at 0.1 per cent,
fixed seeds), or the difference is written down in `explained` with its reason and with what physics shows instead.

Not counted as a difference: outcomes that physics never shows and that have 5 per cent or less in all. They are
people's mistakes and rare other ways in which the cause shows; the catalogue's `mistake` comes on top of them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

import pytest
from scipy.stats import chisquare

from diagtree.knowledge.words import Cause, Test
from tests.car.counting import VEHICLES, concerns, counted, simulated_tests, walk
from tests.car.explained import EXPLAINED

REST = 5.0
"""Per cent that may rest on outcomes that physics never shows."""
LEVEL = 0.001
"""Chance of a true agreement to be called a difference."""


def rows() -> list[pytest.param]:  # type: ignore[valid-type]
    return [
        pytest.param(vehicle, cause, test, id=f"{vehicle}-{cause.id}-{test.id}")
        for vehicle in VEHICLES
        for cause in walk(vehicle).catalogue.causes.values() if cause.fault
        for test in simulated_tests(vehicle) if concerns(test, cause)
    ]


def stated(cause: Cause, test: Test) -> Mapping[str, float]:
    return cause.shows.get(test.id, {test.healthy: 100.0})


def fits(seen: Counter[str], shares: Mapping[str, float], rest: float = 0.0) -> bool:
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
    return bool(chisquare([seen[name] for name in shown], expected).pvalue >= LEVEL)


@pytest.mark.parametrize(("vehicle", "cause", "test"), rows())
def test_physics_agrees_with_the_figures_or_the_difference_is_explained(vehicle: str, cause: Cause, test: Test):
    seen = counted(vehicle, cause.id, test.id)
    explained = EXPLAINED.get((cause.id, test.id))
    if explained is not None and vehicle in explained.physics:
        assert explained.reason
        assert fits(seen, explained.physics[vehicle]), f"physics shows {dict(seen)}, not what is explained"
        assert not fits(seen, stated(cause, test), REST), "it agrees: take the explanation out"
        return
    assert fits(seen, stated(cause, test), REST), f"physics shows {dict(seen)}, the catalogue {stated(cause, test)}"


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_a_sound_car_shows_the_healthy_outcome_of_every_test(vehicle: str):
    """The healthy outcome of a numeric test holds for a sound car at every temperature, meter's noise and all."""
    for test in simulated_tests(vehicle):
        assert counted(vehicle, None, test.id, 80) == {test.healthy: 80}, test.id


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_a_cause_that_does_not_show_leaves_the_reading_sound(vehicle: str):
    """Physics never shows a fault at a test that neither names the cause nor measures its part."""
    catalogue = walk(vehicle).catalogue
    for cause in catalogue.causes.values():
        for test in simulated_tests(vehicle):
            if cause.fault and not concerns(test, cause):
                assert counted(vehicle, cause.id, test.id, 8) == {test.healthy: 8}, (cause.id, test.id)


def test_every_physical_cause_and_every_numeric_test_is_simulated():
    """What has no fault is a setting or a program, and every number has its observable."""
    catalogue = walk(VEHICLES[0]).catalogue
    assert {cause.id for cause in catalogue.causes.values() if not cause.fault} == {
        "charge-schedule-set", "charge-controller-software",
    }  # fmt: skip
    assert [test.id for test in catalogue.tests.values() if any(not read.of for read in test.reads)] == []


def test_no_explanation_is_left_over():
    known = {(cause.id, test.id) for vehicle in VEHICLES for cause in walk(vehicle).catalogue.causes.values()
             for test in simulated_tests(vehicle) if concerns(test, cause)}  # fmt: skip
    assert set(EXPLAINED) <= known


def test_the_comparison_can_fail():
    """A tenth moved from one outcome to another is seen, and so is an outcome that nobody stated."""
    assert fits(Counter(a=210, b=90), {"a": 70.0, "b": 30.0})
    assert not fits(Counter(a=180, b=120), {"a": 70.0, "b": 30.0})
    assert not fits(Counter(a=299, c=1), {"a": 100.0})
    assert fits(Counter(a=300), {"a": 95.0, "b": 5.0}, REST)
    assert not fits(Counter(a=300), {"a": 94.0, "b": 6.0}, REST)
