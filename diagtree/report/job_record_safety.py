"""What was done to the car, in order: procedures, readings of the absence of voltage, accesses, changes told."""

from __future__ import annotations

from collections.abc import Sequence

from diagtree.errors import DiagtreeError
from diagtree.knowledge.limits import LimitError, evaluate
from diagtree.knowledge.words import HAND_BACK, MAKE_SAFE, RE_ENERGISE
from diagtree.report.job_record_values import PairRecord, SafetyRecord
from diagtree.walk.absence import Pair, measure
from diagtree.walk.approach import minutes_since_act, time_words
from diagtree.walk.context import Walk
from diagtree.walk.events import (
    AbsenceMeasured,
    CarChanged,
    Closed,
    Confirmed,
    Event,
    FoundAlready,
    Opened,
    ProcedureDone,
    RepeatChosen,
    Resumed,
    StepDone,
    StepRefused,
    StepTakenBack,
    StepUnconfirmed,
)
from diagtree.walk.judging import TypedFacts, with_supplied
from diagtree.walk.state import State

_DONE = {
    MAKE_SAFE: "made safe: absence of voltage proven by the readings above",
    RE_ENERGISE: "re-energised: the car is live",
    HAND_BACK: "hand-back done",
}


def safety(walk: Walk, events: Sequence[Event], facts: TypedFacts) -> tuple[SafetyRecord, ...]:
    """Return every physical act and every fact told about the car, in order. Nothing takes these back.

    facts : maker's values that the technician supplied, by dotted name.
    """
    found = (_record(walk, event, facts, events[:place]) for place, event in enumerate(events))
    return tuple(record for record in found if record is not None)


def _record(walk: Walk, event: Event, facts: TypedFacts, before: Sequence[Event]) -> SafetyRecord | None:
    match event:
        case FoundAlready(at=at, opened=opened, isolated=isolated):
            what = f"before the work: open or off: {_names(walk, opened)}"
            return SafetyRecord(at, what + ("; said to be isolated already (not proven by that)" if isolated else ""))
        case Opened(at=at, access=access):
            return SafetyRecord(at, f"opened: {_name(walk, access)}")
        case Closed(at=at, access=access):
            return SafetyRecord(at, f"closed: {_name(walk, access)}")
        case StepDone(at=at, says=says):
            return SafetyRecord(at, _step_words(walk, event, facts, before), _said(event.kind, says))
        case AbsenceMeasured():
            return _absence(walk, event)
        case ProcedureDone(at=at, procedure=procedure):
            return SafetyRecord(at, _done_words(walk, procedure))
        case RepeatChosen(at=at):
            return SafetyRecord(at, "voltage found: the tester is proven and the absence measured again")
        case StepTakenBack(at=at, reason=reason):
            return SafetyRecord(at, "said of the step before: not done; the car counts as live from here", reason)
        case StepUnconfirmed(at=at):
            return SafetyRecord(at, f"{_step_name(walk, event)}: the confirmation was taken back; it is asked again")
        case StepRefused(at=at, says=says):
            return SafetyRecord(at, f"{_step_name(walk, event)}: the answer was not taken; it is asked again", says)
        case CarChanged():
            return _changed(walk, event)
        case Confirmed(at=at, key=key, conditions=conditions):
            return SafetyRecord(at, f"confirmed for {key}: {' '.join(conditions)}")
        case Resumed(at=at):
            return SafetyRecord(at, "case opened again: an earlier proof of absence does not hold over the break")
        case _:
            return None


def _done_words(walk: Walk, procedure: str) -> str:
    found = walk.catalogue.procedures.get(procedure)
    if procedure == MAKE_SAFE and not (found and found.steps):
        return "said to be made safe by the maker's procedure; the house's knowledge asks for no readings"
    return _DONE.get(procedure, f"{procedure} done")


def _step_words(walk: Walk, event: StepDone, facts: TypedFacts, before: Sequence[Event]) -> str:
    procedure = walk.catalogue.procedures.get(event.procedure)
    step = procedure.steps[event.index] if procedure and event.index < len(procedure.steps) else None
    words = f"{event.procedure}, {event.kind}: {step.do if step and step.do else 'done'}"
    if step is None or step.minutes is None:
        return words
    waited = _waited(event, before)
    try:
        minutes = evaluate(step.minutes, {"vehicle": with_supplied(walk.facts, facts)})
    except LimitError:
        return f"{words} ({waited}asked for: as long as the maker's procedure demands)"
    return f"{words} ({waited}asked for: at least {minutes:g} min)"


def _step_name(walk: Walk, event: StepUnconfirmed | StepRefused) -> str:
    procedure = walk.catalogue.procedures.get(event.procedure)
    known = procedure is not None and event.index < len(procedure.steps)
    return f"{event.procedure}, {procedure.steps[event.index].kind}" if procedure and known else event.procedure


def _waited(event: StepDone, before: Sequence[Event]) -> str:
    """Return when a wait was confirmed, counted from the last act on the car; nothing where that cannot be told.

    The clock of the wait may have run before: the record says both times and judges neither.
    """
    minutes = minutes_since_act(before, event.at)
    return "" if minutes is None else f"confirmed after {time_words(minutes)} by the clock of this case, "


def _said(kind: str, says: str) -> str:
    if kind == "secure":
        return f"who holds the key: {says.strip() or 'not said'}"
    return says


def _absence(walk: Walk, event: AbsenceMeasured) -> SafetyRecord:
    wanted = tuple(Pair(points, limit) for points, limit in zip(event.between, event.limits, strict=True))
    try:
        verdicts = measure(walk, wanted, event.readings)
    except DiagtreeError:  # an event that another program wrote: its own verdict stands, pair by pair nothing is said
        verdicts = ()
    rows = []
    for number, (pair, typed) in enumerate(zip(wanted, event.readings, strict=True)):
        one = verdicts[number] if verdicts else None
        words = "not judged" if one is None else _below(one.proven, over=one.reading.over_range)
        rows.append(PairRecord(pair.points, typed, pair.limit, one.expanded if one else 0.0, words))
    what = "absence of voltage measured: PROVEN" if event.proven else "absence of voltage measured: NOT PROVEN"
    return SafetyRecord(event.at, what, "", tuple(rows), event.proven)


def _below(proven: bool, *, over: bool) -> str:
    if over:
        return "NOT below the limit: above the tester's range"
    return "below the limit by the whole uncertainty" if proven else "NOT below the limit by the whole uncertainty"


def _changed(walk: Walk, event: CarChanged) -> SafetyRecord:
    parts = ["powered"] if event.powered else []
    if event.opened:
        parts.append(f"opened: {_names(walk, event.opened)}")
    if event.closed:
        parts.append(f"closed: {_names(walk, event.closed)}")
    return SafetyRecord(event.at, f"told: the car was changed ({'; '.join(parts) or 'see the note'})", event.note)


def _name(walk: Walk, access: str) -> str:
    found = walk.catalogue.access.get(access)
    return found.name if found else access


def _names(walk: Walk, accesses: Sequence[str]) -> str:
    return ", ".join(_name(walk, access) for access in accesses) or "nothing"


def still_open(walk: Walk, state: State) -> tuple[str, ...]:
    """Return what is open now by the record, in the order in which it was opened."""
    return tuple(_name(walk, access) for access in state.opened)


def state_now(state: State) -> str:
    """Return the car's power state by the record, in words that promise nothing."""
    if state.voltage_found:
        return "VOLTAGE WAS FOUND where there must be none, or it was not certain: the car counts as live"
    if state.arrangement.dead and state.proven_at is not None:
        return f"made safe; absence of voltage last proven at {state.proven_at}"
    if state.arrangement.dead:
        return "isolated; the proof of absence does not hold any more: it counts as live until proven again"
    if state.isolation_begun:
        return "isolation was begun, the absence of voltage is not proven: the car counts as live"
    return "counts as live"
