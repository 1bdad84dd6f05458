"""Proof of repair: check values V206 to V222."""

from __future__ import annotations

import pytest

from diagtree.proof import confidence as proof

from .charging_rows import CL, CM, C, Row

BINOMIAL = "binomial distribution"
THREE = "encyclopaedia article on the rule of three"
WALD = "A. Wald, Annals of Mathematical Statistics 16 (1945); stopping rule by two public notes, limits from memory"

TEST = proof.SequentialTest(repaired=0.01, faulty=0.20, false_alarm=0.05, missed=0.05)
OTHER = proof.SequentialTest(repaired=0.02, faulty=0.30, false_alarm=0.05, missed=0.10)


def trials(confidence, chance):
    return proof.exact_clean_trials(confidence, chance), float(proof.clean_trials(confidence, chance))


def bound(count):
    return proof.highest_chance(count), proof.rule_of_three(count)


ROWS = [
    Row("V206", lambda: trials(0.95, 0.1), (28.433, 29.0), 0.001, BINOMIAL, C),
    Row("V207", lambda: trials(0.95, 0.2), (13.425, 14.0), 0.001, BINOMIAL, C),
    Row("V208", lambda: trials(0.95, 0.5), (4.322, 5.0), 0.001, BINOMIAL, C),
    Row("V209", lambda: trials(0.9, 0.2), (10.319, 11.0), 0.001, BINOMIAL, C),
    Row("V210", lambda: trials(0.99, 0.1), (43.709, 44.0), 0.001, BINOMIAL, C),
    Row("V211", lambda: trials(0.8, 0.3), (4.512, 5.0), 0.001, BINOMIAL, C),
    Row("V212", lambda: bound(10), (0.2589, 0.3000), 0.0001, THREE, CL),
    Row("V213", lambda: bound(29), (0.0981, 0.1034), 0.0001, THREE, CL),
    Row("V214", lambda: bound(100), (0.0295, 0.0300), 0.0001, THREE, CL),
    Row("V215", lambda: proof.clean_hours(0.95, 5.0), 14.979, 0.01, "exponential distribution", C),
    Row("V216", lambda: proof.belief_in_repair(0.7, 0.2, 10), 0.9560, 0.0005, "Bayes' rule", C),
    Row("V217", lambda: (TEST.upper, TEST.lower), (2.9444, -2.9444), 0.0001, WALD, CM),
    Row("V218", lambda: (TEST.clean_step, TEST.fault_step), (-0.21309, 2.99573), 0.0001, WALD, C),
    Row("V219", lambda: float(TEST.clean_needed()), 14.0, 0, WALD, CM),
    Row("V220", lambda: (TEST.total(1, 1), TEST.decide(1, 1).value), (2.783, "undecided"), 0.001, WALD, CM),
    Row("V221", lambda: float(TEST.clean_needed(1)), 28.0, 0, WALD, CM),
    Row("V222", lambda: (OTHER.upper, OTHER.lower, float(OTHER.clean_needed())), (2.8904, -2.2513, 7.0), 0.0001, WALD,
        CM),
]  # fmt: skip


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_row(row):
    """The value is the published one."""
    assert row.holds(), (row.got(), row.expected, row.source)


TABLE = {  # confidence: trials for a chance of 0.05, 0.10, 0.20, 0.25, 0.30, 0.50; computed
    0.80: (32, 16, 8, 6, 5, 3),
    0.90: (45, 22, 11, 9, 7, 4),
    0.95: (59, 29, 14, 11, 9, 5), 0.99: (90, 44, 21, 17, 13, 7),
}  # fmt: skip


@pytest.mark.parametrize("wanted", TABLE)
def test_table_of_clean_trials(wanted):
    """The whole table (plain mathematics)."""
    assert tuple(proof.clean_trials(wanted, chance) for chance in (0.05, 0.1, 0.2, 0.25, 0.3, 0.5)) == TABLE[wanted]


@pytest.mark.parametrize(("wanted", "multiplier"), [(0.97, 3.51), (0.99, 4.61), (0.995, 5.30)])
def test_multipliers_of_the_rule_of_three(wanted, multiplier):
    """-ln(1 - C), printed as 3.51, 4.61 and 5.30 (looked up)."""
    assert proof.clean_hours(wanted, 1.0) == pytest.approx(multiplier, abs=0.01)


def test_a_recurrence_on_the_first_trial_rejects_and_on_the_second_leaves_it_open():
    """The worked run of the sequential test (arithmetic on Wald's remembered limits)."""
    assert TEST.decide(0, 1) is proof.Decision.STILL_FAULTY
    assert TEST.decide(13, 0) is proof.Decision.UNDECIDED
    assert TEST.decide(14, 0) is proof.Decision.REPAIRED
    assert OTHER.decide(0, 1) is proof.Decision.UNDECIDED
    assert OTHER.decide(0, 2) is proof.Decision.STILL_FAULTY
