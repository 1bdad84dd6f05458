"""A small house and one long, troubled job, driven through the session: what the job record is tested on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache

from diagtree.knowledge.library import read_library
from diagtree.report.job_record import CaseFacts, JobRecord, job_record
from diagtree.walk.answers import Answer, Back, Changed, Chosen, DidNot, NotDone, Note, RecordTest, Ticked, Typed
from diagtree.walk.context import Walk
from diagtree.walk.event_json import event_from_json, event_to_json
from diagtree.walk.events import Begun, Event
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


def half(script: Script) -> Script:
    return {"complaint": [typed(words="stops")], "outcome:burnt": [Chosen(("no",))], **script}
