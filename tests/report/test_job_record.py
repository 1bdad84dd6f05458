"""The job record: a small house and one long, troubled job, driven through the session; every fact must be there."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

import pytest

from diagtree.knowledge.library import read_library
from diagtree.knowledge.words import NOT_DONE
from diagtree.report.job import formats
from diagtree.report.job_record import CaseFacts, JobRecord, job_record
from diagtree.report.job_record_conclusion import fine_percent
from diagtree.report.job_record_money import by_kind
from diagtree.report.job_record_safety import safety
from diagtree.walk.account import account, minutes_spent, money_spent
from diagtree.walk.answers import Answer, Back, Changed, Chosen, DidNot, NotDone, Note, RecordTest, Ticked, Typed
from diagtree.walk.context import Walk
from diagtree.walk.event_json import event_from_json, event_to_json
from diagtree.walk.events import Answered, Begun, Event, Measured, Noted, StepDone
from diagtree.walk.fold import fold
from diagtree.walk.prompts import Kind, Prompt, Tick
from diagtree.walk.respond import respond
from diagtree.walk.session import next_prompt
from diagtree.walk.state import State

FILES = {
    "workshop.yaml": """
workshop: Harbour Lane Garage
currency: EUR
rate: 60
referral: 250
comeback: 300
meters:
  multimeter: {ohm: {percent: 1, counts: 2}, volt: {percent: 1, counts: 2}}
  bench-meter: {ohm: {percent: 0.1, counts: 1}}
""",
    "vehicles/marlin-9.yaml": """
vehicle: marlin-9
name: Marlin estate
inlet: {nominal: unknown}
safety: {dead_below: 25, wait: 5}
""",
    "catalogue/all.yaml": """
tests:
  other-point:
    ask: Does the car charge on another AC charge point?
    place: reception
    minutes: 1
    outcomes: [yes, no]
    healthy: no
    mistake: 5
    source: common practice
  codes:
    ask: Are charging codes stored?
    place: reception
    minutes: 2
    outcomes: [no, yes]
    healthy: no
    mistake: 5
    source: common practice
  burnt:
    ask: Is the inlet burnt?
    place: reception
    minutes: 1
    outcomes: [no, yes]
    healthy: no
    stop: [yes]
    mistake: 3
    source: common practice
  sensor:
    ask: Resistance of the inlet sensor
    place: bay
    minutes: 6
    needs: {power: dead, open: [cover], tools: [multimeter]}
    qualification: high-voltage
    reads: {resistance: ohm}
    judge: resistance
    outcomes: {low: below 900, normal: below 1100, high: otherwise}
    healthy: normal
    mistake: 2
    source: invented curve, page 7
  ratio:
    ask: Resistance against the maker's value
    place: bay
    minutes: 4
    needs: {power: dead, open: [cover], tools: [multimeter]}
    reads: {resistance: ohm}
    expected: vehicle.inlet.nominal
    judge: resistance / expected
    outcomes: {low: below 0.9, normal: below 1.1, high: otherwise}
    healthy: normal
    mistake: 2
    source: maker's manual
causes:
  sensor-open:
    name: Sensor open
    where: inlet
    shows: {sensor: {high: 96, normal: 4}, ratio: {high: 96, normal: 4}, codes: {yes: 90, no: 10}}
    correction:
      do: Replace the sensor
      minutes: 30
      parts: [{name: sensor, price: 80}]
      needs: {power: dead, open: [cover]}
    proof: {charge: ac, minutes: 20, attended: 5, watch: [temperature]}
  lead-broken:
    name: Lead broken
    where: wiring
    shows: {sensor: {high: 90, normal: 10}, ratio: {high: 60, normal: 40}}
    correction: {do: Mend the lead, minutes: 45, needs: {power: dead, open: [cover]}}
    proof: {charge: ac, minutes: 30}
  point-fault:
    name: Fault in the owner's charge point
    where: outside
    shows: {other-point: {yes: 99, no: 1}}
    advise: {do: Call the installer of the charge point., minutes: 10}
access:
  cover: {name: cover of the inlet, open: 5, close: 8, power: dead}
procedures:
  make-safe:
    minutes: 25
    steps:
      - {kind: unplug, do: Pull the plug.}
      - {kind: switch-off, do: Switch the car off.}
      - {kind: disconnect, do: Pull the service disconnect.}
      - {kind: secure, do: 'Lock the key away. Who holds it?'}
      - {kind: wait, do: Wait., minutes: vehicle.safety.wait}
      - {kind: prove-tester, do: Prove the tester.}
      - {kind: absence, between: [DC+ and DC-, DC+ and chassis], below: vehicle.safety.dead_below}
      - {kind: prove-tester, do: Prove the tester again.}
  re-energise:
    minutes: 10
    steps: [{kind: reconnect, do: Put the service disconnect back.}]
  hand-back:
    minutes: 10
    steps: [{kind: codes, do: Read the codes.}]
""",
    "stops.yaml": """
diagtree: 1
tree: stops
title: AC charging stops
revision: 3
hears: [stops]
causes: {sensor-open: 40, lead-broken: 40, point-fault: 30, something-else: 10}
start: burnt
steps:
  burnt: {then: {no: other-point, yes: {refer: a high-voltage technician}}}
  other-point: {then: {yes: {conclude: point-fault}, no: codes}}
  codes: {then: {no: sensor, yes: sensor}}
  sensor: {then: {low: ratio, normal: ratio, high: ratio}}
  ratio: {then: {low: {refer: a specialist}, normal: {refer: a specialist}, high: {conclude: sensor-open}}}
""",
}
CASE = CaseFacts("2026-0042", "open", "2026-03-02T08:00:00+01:00", "2026-03-02T11:00:00+01:00", "technician",
                 "d" * 64, "a1" * 32)  # fmt: skip
PRINTED = "2026-03-02T12:00:00+01:00"
Script = Mapping[str, Sequence[Answer]]


def walk_of(files: Mapping[str, str] = FILES) -> Walk:
    library = read_library(dict(files))
    assert not library.findings, "\n".join(map(str, library.findings))
    return Walk.begin(library, "stops", "marlin-9")


def typed(**values: str) -> Typed:
    return Typed(values)


def absence(*volts: str) -> Typed:
    return Typed({f"pair{number}": text for number, text in enumerate(volts, start=1)})


def play(walk: Walk, script: Script) -> tuple[Event, ...]:
    """Answer prompts from queues by `kind` or `kind:key`; ticks and the first questions have answers of their own.

    Stops where nothing is left to say: a half-walked case. Every answer is given a minute after the one before.
    """
    queues = {name: list(answers) for name, answers in script.items()}
    house = walk.house
    at = "2026-03-02T08:00:00+01:00"
    events: list[Event] = [Begun(at, walk.tree, walk.vehicle, house.rate, house.referral, house.comeback)]
    state = fold(walk, events, State())
    for minute in range(1, 300):
        at = f"2026-03-02T{8 + minute // 60:02d}:{minute % 60:02d}:00+01:00"
        prompt = next_prompt(walk, state, at)
        answer = _answer(prompt, queues) if prompt is not None else None
        if answer is None:
            break
        new = respond(walk, state, answer, at)
        events += new
        state = fold(walk, new, state)
    assert not any(queues.values()), f"never asked for: {queues}; it stands at {prompt and prompt.kind}"
    # As it comes out of a store.
    return tuple(event_from_json(event_to_json(event)) for event in events)


def _answer(prompt: Prompt, queues: dict[str, list[Answer]]) -> Answer | None:
    for name in (f"{prompt.kind}:{prompt.key}", str(prompt.kind)):
        if queues.get(name):
            return queues[name].pop(0)
    if isinstance(prompt.form, Tick) and prompt.kind is not Kind.DANGER:
        return Ticked(prompt.form.word, prompt.form.good[0] if prompt.form.good else "")
    return {Kind.LOOK: Chosen(("nothing",)), Kind.ALREADY: Chosen(("nothing",))}.get(prompt.kind)


STORY: Script = {
    "complaint": [typed(words="It stops after *twenty* minutes | every time", cuts_out_after="25")],
    "outcome:burnt": [Chosen(("no",))],
    "outcome:other-point": [Chosen(("yes",)), Chosen(("no",))],
    "conclusion:point-fault": [Back()],
    "outcome:codes": [Note("codes reader is at the other bay"), NotDone("no reader free")],
    "procedure:make-safe:3": [Ticked("done", "shift lead"), Ticked("done", "technician")],
    "absence": [absence("41", "0.2"), absence("0.4", "-0.1"), absence("0.3", "0.1"), absence("0.2", "0.2")],
    "voltage-found": [Chosen(("repeat",))],
    "reading:sensor": [
        DidNot("the plug was still in"),
        typed(resistance="1.101 k"),
        typed(resistance="1.35 k"),
    ],
    "close-reading:sensor": [Chosen(("with:bench-meter",))],
    "reading:ratio": [
        Changed(powered=False, closed=("cover",), note="colleague closed it"),
        RecordTest("codes", "yes", note="read at reception"),
        typed(resistance="1.300 k"),
    ],
    "fact": [typed(value="1000", source="manual, page 12")],
    "conclusion:sensor-open": [Chosen(("correct",))],
    "correction": [Ticked("done", "new sensor, old one [kept]")],
    "proof:sensor-open": [typed(minutes="30", watched="10", power="7.2 kW", cut_out="no", temperature="41 degC")],
    "proof-result:sensor-open": [Chosen(("fixed",))],
}


@lru_cache
def story() -> tuple[Walk, tuple[Event, ...]]:
    walk = walk_of()
    return walk, play(walk, STORY)


def record_of(script: Script, status: str = "open") -> JobRecord:
    walk = walk_of()
    case = CaseFacts("2026-0042", status, CASE.opened, CASE.changed, CASE.by, CASE.digest, CASE.head)
    return job_record(walk, play(walk, script), case, PRINTED)


@pytest.fixture
def whole() -> JobRecord:
    walk, events = story()
    return job_record(walk, events, CASE, PRINTED)


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


def half(script: Script) -> Script:
    return {"complaint": [typed(words="stops")], "outcome:burnt": [Chosen(("no",))], **script}


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


def test_a_case_that_is_not_as_it_was_written_says_so(whole):
    """The chain's breach stands in the record, beside the head."""
    walk, events = story()
    case = CaseFacts("2026-0042", "open", CASE.opened, CASE.changed, "", CASE.digest, CASE.head, "event 3 was changed")
    for form in formats():
        assert "NOT AS IT WAS WRITTEN" in form.render(job_record(walk, events, case, PRINTED))
        assert "NOT AS IT WAS WRITTEN" not in form.render(whole)


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
