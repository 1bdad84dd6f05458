"""Proof of repair, against simulation and exact distributions."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import OutOfRange
from diagtree.proof import confidence as proof
from diagtree.proof.confidence import Decision, SequentialTest

SHARE = st.floats(0.01, 0.99)
CHANCE = st.floats(0.005, 0.999)


@settings(max_examples=200, deadline=None)
@given(wanted=SHARE, chance=CHANCE)
def test_clean_trials_are_just_enough(wanted, chance):
    """That many give the confidence, one fewer does not."""
    count = proof.clean_trials(wanted, chance)
    assert proof.confidence_after(count, chance) >= wanted - 1e-7
    assert count == 1 or proof.confidence_after(count - 1, chance) < wanted + 1e-7


def test_a_fault_that_always_shows_needs_one_trial():
    """And one that shows in exactly half of them needs no more than the logarithm says."""
    assert proof.clean_trials(0.99, 1.0) == 1
    assert proof.clean_trials(0.75, 0.5) == 2
    assert proof.clean_trials(1.0 - 0.1**3, 0.9) == 3


@settings(max_examples=100, deadline=None)
@given(count=st.integers(1, 500), wanted=SHARE)
def test_upper_bound_is_the_binomial_one(count, wanted):
    """scipy's Clopper-Pearson bound for no event in n trials is the same, and the rule of three is above it."""
    stats = pytest.importorskip("scipy.stats")
    expected = stats.beta.ppf(wanted, 1, count)
    assert proof.highest_chance(count, wanted) == pytest.approx(expected, rel=1e-9)
    assert proof.rule_of_three(count) > proof.highest_chance(count)


@settings(max_examples=200, deadline=None)
@given(prior=st.floats(0.0, 1.0), chance=CHANCE, count=st.integers(0, 200))
def test_belief_grows_with_clean_trials(prior, chance, count):
    """From the prior upwards, never beyond 1, one trial at a time."""
    belief = proof.belief_in_repair(prior, chance, count)
    assert prior - 1e-12 <= belief <= 1.0
    assert proof.belief_in_repair(prior, chance, count + 1) >= belief
    assert proof.belief_in_repair(prior, chance, 0) == pytest.approx(prior)


def run(test, chance, random):
    """One car tried until the test decides; whether it is called repaired."""
    clean = faults = 0
    while (decision := test.decide(clean, faults)) is Decision.UNDECIDED:
        hit = random.random() < chance
        faults += hit
        clean += not hit
    return decision is Decision.REPAIRED


def test_the_sequential_test_keeps_its_error_rates():
    """5,000 cars each way: a faulty car is passed, and a good one failed, in no more than the stated share."""
    test, random = SequentialTest(0.01, 0.20), np.random.default_rng(7)
    missed = sum(run(test, 0.20, random) for _ in range(5000)) / 5000
    failed = sum(not run(test, 0.01, random) for _ in range(5000)) / 5000
    for rate in (missed, failed):
        assert rate < 0.05 + 3 * math.sqrt(0.05 * 0.95 / 5000)


@pytest.mark.parametrize("faults", [0, 1, 2, 3])
def test_clean_needed_is_where_the_decision_turns(faults):
    """One clean trial fewer leaves it undecided."""
    test = SequentialTest(0.02, 0.30, 0.05, 0.10)
    count = test.clean_needed(faults)
    assert test.decide(count, faults) is Decision.REPAIRED
    assert test.decide(count - 1, faults) is not Decision.REPAIRED


BAD = [
    (lambda: proof.clean_trials(1.0, 0.2), "`confidence` = 1.0"),
    (lambda: proof.clean_trials(math.nan, 0.2), "`confidence` = nan"),
    (lambda: proof.clean_trials(0.95, 0.0), "`chance` = 0.0"),
    (lambda: proof.clean_trials(0.95, 1.1), "`chance` = 1.1"),
    (lambda: proof.highest_chance(0), "`trials` = 0"),
    (lambda: proof.confidence_after(-1, 0.2), "`trials` = -1"),
    (lambda: proof.confidence_after(math.nan, 0.2), "`trials` = nan"),
    (lambda: proof.confidence_after(2.5, 0.2), "`trials` = 2.5"),
    (lambda: proof.clean_hours(0.95, 0.0), "`hours_per_event` = 0.0"),
    (lambda: proof.clean_hours(0.95, math.inf), "`hours_per_event` = inf"),
    (lambda: proof.belief_in_repair(1.5, 0.2, 3), "`prior` = 1.5"),
    (lambda: SequentialTest(0.2, 0.1), "swap them"),
    (lambda: SequentialTest(0.0, 0.1), "`repaired` = 0.0"),
    (lambda: SequentialTest(0.1, 0.2, 0.6, 0.5), "less than 1"),
]


@pytest.mark.parametrize(("call", "words"), BAD, ids=[words for _, words in BAD])
def test_what_makes_no_sense_is_refused_by_name(call, words):
    """Each error names the input."""
    with pytest.raises(OutOfRange, match=words):
        call()
