"""The record of one long, troubled job: every fact must be there."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from diagtree.knowledge.words import NOT_DONE
from diagtree.report.job import formats
from diagtree.report.job_record import CaseFacts, job_record
from diagtree.report.job_record_conclusion import fine_percent
from diagtree.report.job_record_money import by_kind
from diagtree.report.job_record_safety import safety
from diagtree.walk.account import account, minutes_spent, money_spent
from diagtree.walk.answers import Chosen
from diagtree.walk.events import Noted, StepDone
from diagtree.walk.fold import fold
from tests.report.troubled_job import CASE, PRINTED, absence, half, record_of, story, walk_of


@pytest.mark.parametrize("form", formats(), ids=lambda form: form.id)
def test_every_fact_of_the_job_is_in_every_format(form, whole):
    """Readings, limits, sources, absence with its time, parts, proof, notes: each as it was given."""
    text = form.render(whole).replace("\\", "")
    for fact in (
        "Harbour Lane Garage", "2026-0042", "Marlin estate", "revision 3", "d" * 64, "a1" * 32, "by the owner",
        "It stops after *twenty* minutes | every time", "stops after 25 min",
        "Corrected, and judged fixed by a proof charge: Sensor open",
        "1.35 kohm", "1.101 kohm", "bench meter", "multimeter", "1.1 kohm or more", "invented curve, page 7",
        "resistance / expected = 1.3", "1000 = vehicle.inlet.nominal", "maker's manual",
        "vehicle.inlet.nominal = 1000, supplied by the technician (manual, page 12)",
        "Part", "sensor, 80.00 EUR", "new sensor, old one [kept]",
        "charged 30 min (needed: 25 min (the owner's time to cut-out; the catalogue says 20)), watched 10 min, 7.2 kW",
        "41 degC", "no reader free", "codes reader is at the other bay", "read at reception", "colleague closed it",
        "the plug was still in", "who holds the key: shift lead", "asked for: at least 5 min", "below 25 V",
        "The record says who measured what and when. It does not say that the car is safe.",
    ):  # fmt: skip
        assert fact in text, fact


def test_every_absence_reading_keeps_its_time_limit_and_verdict(whole):
    """The failed measurement stays beside the good ones."""
    measured = [one for one in whole.safety if one.pairs]
    assert [[pair.typed for pair in one.pairs] for one in measured] == [
        ["41", "0.2"], ["0.4", "-0.1"], ["0.3", "0.1"], ["0.2", "0.2"],
    ]  # fmt: skip
    assert [one.proven for one in measured] == [False, True, True, True]
    assert {pair.limit for one in measured for pair in one.pairs} == {25.0}
    assert "NOT below" in measured[0].pairs[0].verdict
    assert "NOT" not in measured[0].pairs[1].verdict
    assert len({one.at for one in measured}) == 4
    text = next(form for form in formats() if form.id == "text").render(whole)
    for one in measured:
        assert f"{one.at[:10]} {one.at[11:19]}: absence of voltage measured" in text


def test_a_reading_typed_with_its_unit_has_it_once(whole):
    """`-0.6 V` and `0.4 volt` are kept as numbers; an entry of an earlier program with its unit is shown with one."""
    record = record_of(half({
        "outcome:other-point": [Chosen(("no",))], "outcome:codes": [Chosen(("no",))],
        "absence": [absence("-0.6 V", "0,4 volt")],
    }))  # fmt: skip
    measured = next(one for one in record.safety if one.pairs)
    assert [pair.typed for pair in measured.pairs] == ["-0.6", "0,4"]
    old = replace(measured, pairs=tuple(replace(pair, typed=f"{pair.typed} V") for pair in measured.pairs))
    for shown in (record, replace(record, safety=(old,))):
        for form in formats():
            text = form.render(shown)
            assert "-0.6 V" in text
            assert "V V" not in text
            assert "volt V" not in text


@pytest.mark.parametrize(("later", "words"), [
    ("08:20:03", "confirmed after 3 s"), ("08:21:59", "confirmed after 119 s"), ("08:32:10", "confirmed after 12 min"),
    ("08:19:00", ""),
])  # fmt: skip
def test_a_wait_says_when_it_was_confirmed(later, words):
    """Both times stand there, counted from the act before; a note in between is no act. A clock set back says none."""
    walk, day = walk_of(), "2026-03-02T"
    events = (
        StepDone(f"{day}08:20:00+01:00", "make-safe", 3, "secure", "shift lead"),
        Noted(f"{day}08:20:02+01:00", "cold", "make-safe:4"),
        StepDone(f"{day}{later}+01:00", "make-safe", 4, "wait"),
    )
    said = f"{words} by the clock of this case, " if words else ""
    assert safety(walk, events, {})[-1].what == f"make-safe, wait: Wait. ({said}asked for: at least 5 min)"


def test_small_chances_are_words_not_powers_of_ten(whole):
    """A hundredth of a per cent is the finest that is written."""
    said = {chance: fine_percent(chance) for chance in (0.0, 1.113e-05, 0.0001, 0.4537, 0.99999, 1.0)}
    assert list(said.values()) == ["0 %", "under 0.01 %", "0.01 %", "45.37 %", "over 99.99 %", "over 99.99 %"]
    for form in formats():
        assert not re.search(r"[0-9]e-[0-9]", form.render(whole))


def test_uncertainty_is_that_of_the_meter_used(whole):
    """U = 2 (percent of the reading + counts) / sqrt(3) (JCGM 100:2008, 4.3.7): 1 % and 2 counts, 0.1 % and 1 count."""
    close, kept = (one for one in whole.answers if one.test == "sensor")
    # 1.101 k: one count is 1 ohm; a = 11.01 + 2 = 13.01, U = 15.02. 1.35 k: one count is 10; a = 1.35 + 10, U = 13.1.
    assert (close.readings[0].spread, close.readings[0].meter) == ("+/- 15 ohm", "multimeter")
    assert (kept.readings[0].spread, kept.readings[0].meter) == ("+/- 13 ohm", "bench meter")
    assert close.close
    assert close.outcome == ""
    assert "measured again" in close.fate
    assert not kept.close
    assert kept.outcome == "high"


def test_an_answer_that_was_taken_back_stays_visible(whole):
    """Both answers to the same question are there; the first says when it was taken back."""
    first, second = (one for one in whole.answers if one.test == "other-point")
    assert (first.outcome, second.outcome, second.fate) == ("yes", "no", "")
    assert first.fate.startswith("taken back at 2026-03-02T08:")
    for form in formats():
        assert form.render(whole).count("taken back at") == 1


def test_who_chose_and_what_was_not_done(whole):
    """The tree chose what it led to; what was done anyway says so; what was not done has its reason."""
    codes = [one for one in whole.answers if one.test == "codes"]
    assert [one.outcome for one in codes] == [NOT_DONE, "yes"]
    assert codes[0].reason == "no reader free"
    assert codes[1].by == "the technician (done anyway, without the walk's lead)"
    assert all(one.by == "the tree" for one in whole.answers if one.test == "ratio")


def test_physical_acts_are_told_in_order(whole):
    """What was done is not taken back by an answer; what was said not to be done is told."""
    acts = [one.what for one in whole.safety]
    opened = [n for n, what in enumerate(acts) if what == "opened: cover of the inlet"]
    proven = next(n for n, what in enumerate(acts) if "PROVEN" in what and "NOT" not in what)
    assert opened[0] > proven
    assert any("not done; the car counts as live" in what for what in acts)
    assert "told: the car was changed (closed: cover of the inlet)" in acts
    assert len([what for what in acts if what == "closed: cover of the inlet"]) == 1
    assert acts[-1] == "hand-back done"
    assert whole.still_open == ()
    assert whole.state_now == "counts as live"


def test_minutes_and_money_are_those_of_the_account(whole):
    """The kinds add up to what the walk itself reckons."""
    walk, events = story()
    spent = account(walk, fold(walk, events))
    kinds = by_kind(whole.account, whole.rate)
    assert sum(kind.minutes for kind in kinds) == pytest.approx(minutes_spent(spent))
    assert sum(kind.money for kind in kinds) == pytest.approx(money_spent(walk, spent))
    assert whole.minutes == minutes_spent(spent)
    # By hand, at 60 an hour: tests 1 + 1 + 2 + 6 + 4, cover twice 5 and once 8, safe twice 25, live once 10, end 10,
    # correction 30 and part 80, proof attended 5 of 20.
    assert {kind.kind: kind.money for kind in kinds} == {
        "test": 14, "open": 10, "make-safe": 50, "re-energise": 10, "close": 8, "hand-back": 10,
        "correction": 30, "part": 80, "proof": 5,
    }  # fmt: skip
    assert whole.money == pytest.approx(217)


def test_posterior_is_whole_and_what_is_ruled_out_names_its_tests(whole):
    """All chances sum to 1, something-else among them; a cause under 1 % names the answers that speak against it."""
    chances = {one.id: one.chance for one in whole.conclusion.chances}
    assert set(chances) == {"sensor-open", "lead-broken", "point-fault", "something-else"}
    assert sum(chances.values()) == pytest.approx(1)
    assert {one.id for one in whole.ruled_out} == {name for name, chance in chances.items() if chance < 0.01}
    point = next(one for one in whole.ruled_out if one.id == "point-fault")
    assert "sensor (high)" in point.why
    assert any("Lead broken" in line for line in whole.uncertain)


def test_a_case_that_is_not_as_it_was_written_says_so(whole):
    """The chain's breach stands in the record, beside the head."""
    walk, events = story()
    case = CaseFacts("2026-0042", "open", CASE.opened, CASE.changed, "", CASE.digest, CASE.head, "event 3 was changed")
    for form in formats():
        assert "NOT AS IT WAS WRITTEN" in form.render(job_record(walk, events, case, PRINTED))
        assert "NOT AS IT WAS WRITTEN" not in form.render(whole)
