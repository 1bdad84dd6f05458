"""Simulated cars: the same seed is the same car, readings differ by the meter's noise, draws follow the figures."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import chisquare, kstest

from diagtree.car.car import Car, Shown
from diagtree.car.dice import between, chance
from diagtree.car.shown import shown
from diagtree.errors import WrongUse
from diagtree.knowledge.words import SOMETHING_ELSE
from diagtree.physics.meter import Accuracy, accuracy_for, specified_error
from diagtree.physics.reading import parse_reading
from diagtree.physics.setup import Conditions
from diagtree.physics.units import unit
from tests.car.counting import VEHICLES, facts, walk

CAUSES = sorted(walk(VEHICLES[0]).catalogue.causes)
TESTS = sorted(walk(VEHICLES[0]).catalogue.tests)
SEEDS = st.integers(0, 10**9)


def car(cause: str | None, seed: int | str, vehicle: str = VEHICLES[0], ambient: float = 20.0) -> Car:
    here = walk(vehicle)
    return Car(here.catalogue, facts(vehicle), here.meters, cause, seed, Conditions(ambient))


@settings(deadline=None, max_examples=80)
@given(seed=SEEDS, cause=st.sampled_from([None, SOMETHING_ELSE, *CAUSES]), test=st.sampled_from(TESTS),
       vehicle=st.sampled_from(VEHICLES), time=st.integers(0, 3))  # fmt: skip
def test_the_same_seed_is_the_same_car(seed, cause, test, vehicle, time):
    """Two cars built alike answer alike, whatever else they were asked before."""
    other = car(cause, seed, vehicle)
    for asked in TESTS[:5]:
        other.answer(asked)
    assert car(cause, seed, vehicle).answer(test, time) == other.answer(test, time)
    assert car(cause, seed, vehicle).faults == other.faults


@settings(deadline=None, max_examples=150)
@given(seed=SEEDS, cause=st.sampled_from([None, *CAUSES]), vehicle=st.sampled_from(VEHICLES),
       test=st.sampled_from(TESTS), ambient=st.floats(-15.0, 40.0))  # fmt: skip
def test_read_twice_it_differs_by_the_noise_only(seed, cause, vehicle, test, ambient):
    """Both readings lie within the meter's specified error of one true value; an outcome stays what it was."""
    there = car(cause, seed, vehicle, ambient)
    first, second = there.answer(test), there.answer(test, 1)
    assert first.outcome == second.outcome
    item = there.catalogue.tests[test]
    for read in item.reads if first.readings else ():
        one, two = (parse_reading(shown.readings[read.name], read.unit) for shown in (first, second))
        meters = (there.meters[tool] for tool in sorted(item.needs.tools) if tool in there.meters)
        fit = [found for found in (accuracy_for(meter, unit(read.unit)) for meter in meters) if found]
        if one.over_range or not fit:
            assert one.value == two.value
            continue
        limits = [specified_error(fit[0], seen.value, seen.last_digit) for seen in (one, two)]
        assert abs(one.value - two.value) <= sum(limits) * (1 + 1e-9)


def test_read_again_the_noise_is_another():
    """Ten readings of one resistance are not ten times the same, nor do two readings of one test share their dice."""
    there = car("inlet-contact-hot", 4)
    again = [there.answer("inlet-sensor-resistance", time).readings for time in range(10)]
    assert len({one["resistance"] for one in again}) > 5
    assert again == [there.answer("inlet-sensor-resistance", time).readings for time in range(10)]
    errors = [(float(one["resistance"].split()[0]), float(one["inlet_temperature"])) for one in again]
    assert sorted(errors) != sorted(errors, key=lambda both: both[1])


METERS = st.builds(Accuracy, percent=st.floats(0.0, 5.0), counts=st.floats(1.0, 10.0))
VALUES = st.one_of(st.floats(1e-4, 1e8), st.floats(-1e6, -1e-3), st.just(0.0))


@settings(deadline=None, max_examples=400)
@given(value=VALUES, meter=METERS, die=st.floats(0.0, 1.0), name=st.sampled_from(["ohm", "V", "degC", "kW", "percent"]))
def test_what_is_shown_lies_within_the_meter_s_limits(value, meter, die, name):
    """As it is typed and read back: the true value is within the error that the meter's maker specifies."""
    typed = parse_reading(shown(value, unit(name), meter, die), name)
    allowed = specified_error(meter, typed.value, typed.last_digit)
    # Where rounding carries the reading over a power of ten, its last digit is one of the lower decade still.
    assert abs(typed.value - value) <= allowed * (1 + 1e-9) + 1e-12


def test_the_noise_is_rectangular():
    """Even between the limits: Kolmogorov-Smirnov over 2,000 readings, fixed seed."""
    meter = Accuracy(1.0, 0.0)
    errors = [float(shown(5.0, unit("V"), meter, chance(7, number))) - 5.0 for number in range(2000)]
    spread = 0.05 / 1.01
    assert kstest([(error + spread) / (2 * spread) for error in errors], "uniform").pvalue > 0.01
    assert min(errors) >= -0.0505
    assert max(errors) <= 0.0505


@pytest.mark.parametrize(
    ("value", "name", "text"),
    [
        (12432.7, "ohm", "12.43 k"), (1.2345e6, "ohm", "1.234 M"), (219.96, "ohm", "220.0"),
        (0.0038, "ohm", "0.003800"), (20.04, "degC", "20.0"),
        (-39.96, "degC", "-40.0"), (11.0404, "kW", "11.04"), (98765.0, "kW", "9876e1"),
        (0.0, "V", "0.000"), (inf, "ohm", "OL"),
    ],
)  # fmt: skip
def test_readings_are_typed_as_a_person_would(value, name, text):
    assert shown(value, unit(name), None, 0.5) == text


def test_an_exact_reading_needs_no_meter():
    assert shown(1.2346, unit("V"), None, 0.0) == shown(1.2346, unit("V"), None, 1.0) == "1.235"


def test_dice_fall_the_same_on_every_machine():
    """The first 53 bits of the digest that `sha256sum` prints of the words, joined by the unit separator (0x1f)."""
    assert chance(1, "severity", "inlet.ac_sensor") == (0x046B3761E1047251 >> 11) / 2**53
    assert chance("a word") == (0x993A6153954705A6 >> 11) / 2**53


def test_dice_are_even():
    """20 equal bins of 10,000 throws: chi-square, fixed seeds; and neighbouring seeds have nothing in common."""
    throws = [chance(seed, "outcome", "x") for seed in range(10_000)]
    assert all(0.0 <= die < 1.0 for die in throws)
    assert chisquare(list(Counter(int(20 * die) for die in throws).values())).pvalue > 0.01
    steps = [abs(one - two) for one, two in pairwise(throws)]
    assert sum(steps) / len(steps) == pytest.approx(1 / 3, abs=0.01)


@given(die=st.floats(0.0, 1.0), low=st.floats(1e-3, 10.0), ratio=st.floats(1.01, 1e6))
def test_a_severity_lies_in_its_span(die, low, ratio):
    assert low * (1 - 1e-9) <= between(die, low, low * ratio) <= low * ratio * (1 + 1e-9)


def test_a_cause_without_a_fault_speaks_by_its_figures_where_it_shows():
    """A timer is no fault that physics knows: the power is drawn, what it does not touch is read."""
    there = car("charge-schedule-set", 3)
    assert there.answer("ac-power-readout").outcome in ("none", "part", "full")
    assert there.answer("inlet-sensor-resistance").readings


def test_a_maker_s_value_that_is_unknown_is_not_invented():
    """Physics would need where the charger derates: the outcome is drawn instead."""
    here = walk("marlin-1")
    there = Car(here.catalogue, here.facts, here.meters, "charger-cooling-fault", 1)
    assert there.answer("charger-temperature-readout").outcome in ("cool", "hot")
    assert car("charger-cooling-fault", 1, "marlin-1").answer("charger-temperature-readout").readings


def test_a_correction_fixes_its_own_cause_and_the_same_work():
    """A new inlet with its lead fixes whatever was wrong in the old one; a new charger does not."""
    there = car("inlet-sensor-open", 5)
    assert there.correct("inlet-sensor-open").cause is None
    assert there.correct("inlet-contact-hot").cause is None
    assert there.correct("charger-fault") is there
    assert there.correct("charge-point-fault") is there
    assert there.correct("inlet-sensor-open").answer("inlet-sensor-resistance").readings["resistance"] != "OL"


@pytest.mark.parametrize("cause", [one for one in CAUSES if walk(VEHICLES[0]).catalogue.causes[one].proof])
def test_a_proof_charge_tells_whether_it_is_fixed(cause):
    there = car(cause, 11)
    proof = there.catalogue.causes[cause].proof
    assert proof is not None
    failed, passed = there.proof_charge(cause), there.correct(cause).proof_charge(cause)
    assert failed.cut_out is not None
    assert failed.cut_out <= proof.minutes
    assert passed.cut_out is None
    assert passed.samples[-1].minutes == proof.minutes
    if proof.charge == "ac":
        assert all(sample.power == pytest.approx(7.36) for sample in passed.samples)
        assert max(sample.inlet_temperature or 0.0 for sample in passed.samples) < 55
    else:
        assert all(sample.power is None or sample.power > 7.36 for sample in passed.samples)
    assert there.proof_charge(cause) == failed


def test_names_that_lead_nowhere_are_told():
    there = car(None, 1)
    for ask in (lambda: there.answer("inlet-sensr"), lambda: there.correct("x"), lambda: there.proof_charge("x"),
                lambda: car("inlet-sensor-opne", 1)):  # fmt: skip
        with pytest.raises(WrongUse, match="no"):
            ask()
    with pytest.raises(WrongUse, match="no proof"):
        there.proof_charge("charge-point-fault")


def test_an_answer_is_readings_or_an_outcome_never_both():
    for test in TESTS:
        answer = car("inlet-contact-hot", 1).answer(test)
        assert isinstance(answer, Shown)
        assert bool(answer.readings) != (answer.outcome is not None)
