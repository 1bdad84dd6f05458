"""A fault that shows sometimes has dice of its own; whatever else the car shows stays as it is."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import chisquare

from diagtree.car.car import Car
from diagtree.knowledge.words import Where
from tests.car.counting import VEHICLES, facts, judged, walk

CAUSE, READ = "inlet-sensor-open", "inlet-sensor-resistance"
SEEDS = st.integers(0, 10**9)


def car(seed: int, *, intermittent: bool = True) -> Car:
    here = walk(VEHICLES[0])
    causes = {**here.catalogue.causes, CAUSE: replace(here.catalogue.causes[CAUSE], intermittent=intermittent)}
    return Car(replace(here.catalogue, causes=causes), facts(VEHICLES[0]), here.meters, CAUSE, seed)


def outcome(there: Car, test: str, time: int) -> str:
    shown = there.answer(test, time)
    return shown.outcome or judged(VEHICLES[0], test, tuple(shown.readings.items()))


def test_a_reading_comes_and_goes_by_the_catalogue_s_per_cents():
    """2,000 readings of one car: sound in as many as the figures say, else open. The fault is for good: always open."""
    stated = car(1).catalogue.causes[CAUSE].shows[READ]
    seen = Counter(outcome(car(1), READ, time) for time in range(2000))
    assert set(seen) == {"open", "normal"}
    share = stated["normal"] / 100
    assert chisquare([seen["normal"], seen["open"]], [2000 * share, 2000 * (1 - share)]).pvalue > 0.001
    assert {outcome(car(1, intermittent=False), READ, time) for time in range(200)} == {"open"}


def test_the_first_look_at_a_thousand_cars_agrees_as_well():
    stated = car(1).catalogue.causes[CAUSE].shows[READ]["normal"] / 100
    normal = sum(outcome(car(seed), READ, 0) == "normal" for seed in range(1000))
    assert chisquare([normal, 1000 - normal], [1000 * stated, 1000 * (1 - stated)]).pvalue > 0.001


def test_an_answer_in_words_is_drawn_anew_where_the_cause_shows():
    drawn = [car(3).answer("charging-codes", time).outcome for time in range(300)]
    assert len(set(drawn)) > 2
    assert len({car(3, intermittent=False).answer("charging-codes", time).outcome for time in range(300)}) == 1


@settings(deadline=None, max_examples=60)
@given(seed=SEEDS, time=st.integers(1, 9))
def test_what_has_nothing_to_do_with_it_and_what_the_owner_says_stays(seed: int, time: int):
    there = car(seed)
    shows = there.catalogue.causes[CAUSE].shows
    for test in there.catalogue.tests.values():
        if not test.reads and (test.id not in shows or test.place is Where.RECEPTION):
            assert there.answer(test.id, time) == there.answer(test.id), test.id


@settings(deadline=None, max_examples=40)
@given(seed=SEEDS, time=st.integers(0, 9))
def test_the_same_seed_is_the_same_car_at_every_occasion(seed: int, time: int):
    for test in (READ, "charging-codes", "inlet-temperature-readout"):
        assert car(seed).answer(test, time) == car(seed).answer(test, time)


def test_the_first_answer_is_that_of_a_fault_for_good():
    """Where nothing is asked twice, drawn answers do not hang on whether the fault comes and goes."""
    for seed in range(50):
        assert car(seed).answer("charging-codes") == car(seed, intermittent=False).answer("charging-codes")


@pytest.mark.parametrize("seed", range(20))
def test_a_proof_charge_runs_until_the_fault_comes(seed: int):
    """It cuts out before the end, since a proof tells for certain; until then it charges. Mended, it runs through."""
    there = car(seed)
    proof = there.catalogue.causes[CAUSE].proof
    assert proof is not None
    charge = there.proof_charge(CAUSE)
    assert charge.cut_out is not None
    assert 0.0 <= charge.cut_out <= proof.minutes
    assert all(sample.power for sample in charge.samples[:-1])
    assert charge != there.proof_charge(CAUSE, 1)
    assert there.correct(CAUSE).proof_charge(CAUSE).cut_out is None
