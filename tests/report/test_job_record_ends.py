"""The record of a case that is not finished, or that ends otherwise than with a proven fix."""

from __future__ import annotations

from diagtree.report.job import formats
from diagtree.report.job_record import job_record
from diagtree.walk.answers import Chosen, Ticked
from diagtree.walk.events import Answered, Begun, Measured
from tests.report.troubled_job import CASE, FILES, PRINTED, STORY, absence, half, play, record_of, typed, walk_of


def test_a_half_walked_case_says_where_it_stands():
    """Isolated, covers open, readings typed but not judged: all of it is told, and nothing is called finished."""
    record = record_of(half({
        "outcome:other-point": [Chosen(("no",))], "outcome:codes": [Chosen(("no",))],
        "absence": [absence("0.1", "0.1")], "reading:sensor": [typed(resistance="1.101 k")],
    }))  # fmt: skip
    assert record.conclusion.words == "No conclusion yet: the case is still open"
    assert record.conclusion.chance is None
    assert record.still_open == ("cover of the inlet",)
    assert record.state_now.startswith("made safe; absence of voltage last proven at")
    assert record.answers[-1].fate == "not judged yet"
    assert record.answers[-1].close
    assert "Measured but not judged yet: sensor" in record.uncertain
    assert any(line.startswith("Still open by this record") for line in record.uncertain)
    for form in formats():
        assert "1.101 kohm" in form.render(record)


def test_a_case_that_has_only_begun_has_a_record():
    """Nothing was looked at yet: the record says so instead of failing."""
    walk = walk_of()
    events = (Begun("2026-03-02T08:00:00+01:00", "stops", "marlin-9", 60.0, 250.0, 300.0),)
    record = job_record(walk, events, CASE, PRINTED)
    assert record.answers == ()
    assert record.money == 0
    for form in formats():
        assert "not done yet" in form.render(record)


def test_voltage_that_was_found_is_told_first_of_all_as_live():
    """A failed proof: the car counts as live, whatever came before."""
    record = record_of(half({
        "outcome:other-point": [Chosen(("no",))], "outcome:codes": [Chosen(("no",))],
        "absence": [absence("312", "OL")],
    }))  # fmt: skip
    assert record.state_now.startswith("VOLTAGE WAS FOUND")
    assert "above the tester's range" in record.safety[-1].pairs[1].verdict


def test_advice_has_words_for_the_owner():
    """A cause outside the car: what to have done, by whom, and that the readings go along."""
    record = record_of(half({
        "outcome:other-point": [Chosen(("yes",))], "conclusion:point-fault": [Chosen(("advise",))],
    }), "closed")  # fmt: skip
    assert record.conclusion.words == "Advice given: Fault in the owner's charge point"
    assert record.conclusion.owner[0] == "Advice: Call the installer of the charge point."
    assert any("outside the car" in line for line in record.conclusion.owner)
    assert any(line.kind == "advice" and line.minutes == 10 for line in record.account)


def test_a_correction_in_vain_is_struck_out_and_the_next_is_not_proven_yet():
    """Not fixed: ruled out by its own correction; the rest is ranked anew."""
    record = record_of({
        **{name: STORY[name] for name in ("complaint", "outcome:burnt", "fact", "conclusion:sensor-open")},
        "outcome:other-point": [Chosen(("no",))], "outcome:codes": [Chosen(("no",))],
        "absence": [absence("0.1", "0.1")], "reading:sensor": [typed(resistance="1.400 k")],
        "reading:ratio": [typed(resistance="1.300 k")],
        "proof:sensor-open": [typed(minutes="25", watched="25", power="7", cut_out="yes", temperature="40")],
        "proof-result:sensor-open": [Chosen(("not-fixed",))],
    })  # fmt: skip
    struck = next(one for one in record.ruled_out if one.id == "sensor-open")
    assert struck.why == "its correction did not bring the car back"
    assert record.corrections[0].charges[0].cut_out
    assert record.corrections[0].charges[0].results[0].text == "not-fixed"
    assert "Fix not proven: Sensor open, proof judged: not-fixed" in record.uncertain
    assert record.conclusion.cause == ""


def test_a_danger_tells_whom_to_call_and_to_stand_back():
    """The first look found smoke: the words for the owner are those of the danger."""
    record = record_of({"look": [Chosen(("smoke",))], "danger": [Ticked("stopped")], "refer": [Chosen(("refer",))]})
    assert record.conclusion.words.startswith("Danger found: the car was set apart")
    assert any("fire service" in line for line in record.conclusion.owner)
    assert record.looks[0].text.startswith("DANGER")


def test_a_case_closed_by_hand_is_not_called_finished():
    """The store says closed, the walk never came to its end."""
    record = record_of(half({}), "closed")
    assert record.conclusion.words.startswith("Closed by hand")


def test_judged_by_comparison_keeps_the_reading_and_says_so():
    """The maker's value is not to be had: the number stays, with its meter, and the record says how it was judged."""
    walk = walk_of()
    events = play(walk, half({
        "outcome:other-point": [Chosen(("no",))], "outcome:codes": [Chosen(("no",))],
        "absence": [absence("0.1", "0.1")], "reading:sensor": [typed(resistance="1.400 k")],
        "reading:ratio": [typed(resistance="1.300 k")], "fact": [typed(value="compare")],
    }))  # fmt: skip
    measured = next(event for event in events if isinstance(event, Measured) and event.test == "ratio")
    judged = Answered("2026-03-02T09:30:00+01:00", "ratio", "high", readings=measured.readings, compared=True)
    record = job_record(walk, (*events, judged), CASE, PRINTED)
    ratio = record.answers[-1]
    assert [one.test for one in record.answers].count("ratio") == 1
    assert ratio.compared
    assert (ratio.readings[0].value, ratio.readings[0].meter) == ("1.3 kohm", "multimeter")
    assert any("comparison" in line for line in record.uncertain)
    assert record.conclusion.planned[0].startswith("Correction: Replace the sensor")


def test_a_hand_over_names_both_trees_and_keeps_what_was_answered():
    """The record begins where the case began, and says where it went on."""
    other = """
diagtree: 1
tree: slow
title: AC charging is slow
revision: 2
hears: [slow]
causes: {lead-broken: 50, something-else: 50}
start: codes
steps:
  codes: {then: {no: {conclude: lead-broken}, yes: {conclude: lead-broken}}}
"""
    first = FILES["stops.yaml"].replace("yes: {conclude: point-fault}", "yes: {hand-over: slow}")
    walk = walk_of({**FILES, "stops.yaml": first, "slow.yaml": other})
    events = play(walk, half({
        "outcome:other-point": [Chosen(("yes",))], "hand-over": [Chosen(("go-on",))],
        "outcome:codes": [Chosen(("no",))],
    }))  # fmt: skip
    record = job_record(walk, events, CASE, PRINTED)
    assert record.trees == ("AC charging stops (stops, revision 3)", "AC charging is slow (slow, revision 2)")
    assert [one.test for one in record.answers] == ["burnt", "other-point", "codes"]
    assert record.conclusion.words == "Cause named, case still open: Lead broken"


def test_a_car_left_isolated_says_so():
    """Voltage that does not fall: the car stays as it is, and the record does not call it dead."""
    record = record_of(half({
        "outcome:other-point": [Chosen(("no",))], "outcome:codes": [Chosen(("no",))],
        "absence": [absence("312", "4"), absence("312", "4")],
        "voltage-found": [Chosen(("repeat",)), Chosen(("isolated",))],
    }), "closed")  # fmt: skip
    assert record.conclusion.words == "Voltage was found: the car was left isolated and referred"
    assert record.state_now.startswith("VOLTAGE WAS FOUND")
    assert [one.proven for one in record.safety if one.pairs] == [False, False]
