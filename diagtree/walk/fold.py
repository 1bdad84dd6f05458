"""Events to state: `state = fold(events)`. Pure; the same events on the same knowledge give the same state."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import reduce

from diagtree.knowledge.words import HAND_BACK, MAKE_SAFE, RE_ENERGISE
from diagtree.reason.arrangement import Arrangement
from diagtree.walk.context import Walk
from diagtree.walk.events import (
    AbsenceMeasured,
    AdviceShown,
    Answered,
    Begun,
    CarChanged,
    CaseClosed,
    ChargeAgain,
    Closed,
    CompareChosen,
    Complained,
    Confirmed,
    Corrected,
    Decided,
    Event,
    FactSupplied,
    FoundAlready,
    Looked,
    MeasureAgain,
    Measured,
    Noted,
    Opened,
    ProcedureDone,
    ProofCharged,
    ProofJudged,
    RepeatChosen,
    Resumed,
    StepDone,
    StepRefused,
    StepTakenBack,
    StepUnconfirmed,
    TestChosen,
    Undone,
)
from diagtree.walk.procedures import absence_steps, due_steps, repeat_steps
from diagtree.walk.state import Running, Spent, State


def fold(walk: Walk, events: Iterable[Event], state: State | None = None) -> State:
    """Return the state after `events`, from the beginning or from `state` on."""
    return reduce(lambda before, event: apply(walk, before, event), events, state or State())


def apply(walk: Walk, state: State, event: Event) -> State:
    """Return the state after one more event."""
    state = replace(_applied(walk, state, event), count=state.count + 1)
    return state if isinstance(event, Answered | Noted | AdviceShown | StepRefused) else replace(state, last=None)


def _applied(walk: Walk, state: State, event: Event) -> State:
    match event:
        case Begun() | StepRefused():  # only for the record: the step is asked again
            return state
        case Looked() | Complained() | Answered() | Decided() | ProofJudged() | TestChosen():
            return _item(state, event)
        case Undone(count=count):
            kept = state.items[: max(0, len(state.items) - count)]
            facts = {item.name: item.value for item in kept if isinstance(item, FactSupplied)}
            state = replace(state, confirmed=None, measured=None, compare=False, charged=_charge(state, kept))
            return replace(_broken_off(state), items=kept, facts=facts, proven_at=None)
        case FoundAlready(opened=opened, isolated=isolated):
            arrangement = Arrangement(False, frozenset(opened))
            return replace(
                state,
                asked_already=True,
                arrangement=arrangement,
                opened=opened,
                isolation_begun=isolated,
                proven_at=None,
            )
        case Opened(access=access):
            return _opened(walk, state, access)
        case Closed(access=access):
            return _closed(walk, state, access)
        case StepDone() | AbsenceMeasured() | ProcedureDone() | RepeatChosen() | StepTakenBack():
            return _procedure(walk, state, event)
        case StepUnconfirmed():
            return _unconfirmed(walk, state)
        case CarChanged():
            return _changed(_rewound(walk, state), event)
        case Confirmed(key=key):
            return replace(state, confirmed=key)
        case Measured():
            return replace(state, measured=event)
        case MeasureAgain(test=test, meter=meter):
            meters = {**state.meters, test: meter} if meter else state.meters
            return replace(state, measured=None, meters=meters)
        case FactSupplied(name=name, value=value):
            return replace(state, items=(*state.items, event), facts={**state.facts, name: value})
        case CompareChosen():
            return replace(state, compare=True)
        case Corrected(cause=cause):
            return replace(state, corrected=(*state.corrected, cause), charged=None)
        case ProofCharged():
            return replace(state, charged=event)
        case ChargeAgain():
            return replace(state, charged=None)
        case Noted():
            return replace(state, notes=(*state.notes, event))
        case AdviceShown():
            return replace(state, advised=(len(state.items), event))
        case Resumed():
            return replace(_rewound(walk, state), proven_at=None, confirmed=None)
        case CaseClosed(how=how):
            return replace(state, closed=how)


def _item(state: State, event: Looked | Complained | Answered | Decided | ProofJudged | TestChosen) -> State:
    fresh = replace(state, items=(*state.items, event), confirmed=None)
    pending = state.measured
    if pending is not None and isinstance(event, Answered) and event.test == pending.test:
        fresh = replace(fresh, measured=None, compare=False)  # another test leaves what was typed for this one
    if isinstance(event, Answered):
        return replace(fresh, last=event)
    if isinstance(event, Decided):
        return replace(fresh, charged=None)
    return fresh


def _charge(state: State, kept: tuple[object, ...]) -> ProofCharged | None:
    """A proof charge stays on the table while its result is taken back, and only then."""
    gone = state.items[len(kept) :]
    return state.charged if all(isinstance(item, ProofJudged) for item in gone) else None


def _broken_off(state: State) -> State:
    """Going back leaves a procedure unfinished: nothing of it counts, save that isolation may have begun."""
    if state.running is None:
        return state
    touched = state.isolation_begun or (state.running.procedure == RE_ENERGISE and state.running.done > 0)
    return replace(state, running=None, isolation_begun=touched and not state.arrangement.dead)


def _rewound(walk: Walk, state: State) -> State:
    """A reading of the absence that is not fresh any more counts for nothing: back to proving the tester."""
    running = state.running
    if running is None or running.procedure != MAKE_SAFE:
        return state
    first = next((place for place, index in enumerate(running.indices) if index in absence_steps(walk)), 0)
    return replace(state, running=replace(running, done=min(running.done, first)))


def _opened(walk: Walk, state: State, access: str) -> State:
    now = state.arrangement
    minutes = walk.catalogue.access[access].open
    return replace(
        state,
        arrangement=Arrangement(now.dead, now.open | {access}),
        opened=(*(item for item in state.opened if item != access), access),
        spent=(*state.spent, Spent("open", access, minutes)),
    )


def _closed(walk: Walk, state: State, access: str) -> State:
    now = state.arrangement
    minutes = walk.catalogue.access[access].close
    return replace(
        state,
        arrangement=Arrangement(now.dead, now.open - {access}),
        opened=tuple(item for item in state.opened if item != access),
        spent=(*state.spent, Spent("close", access, minutes)),
    )


def _changed(state: State, event: CarChanged) -> State:
    now = state.arrangement
    opened = (*(item for item in state.opened if item not in event.closed), *event.opened)
    ordered = tuple(dict.fromkeys(opened))
    running = state.running
    touched = state.isolation_begun
    if running is not None and (event.powered or running.procedure != MAKE_SAFE):
        # Whatever was done of it begins anew; a re-energising that was under way leaves the car half connected.
        touched = touched or (running.procedure == RE_ENERGISE and running.done > 0)
        running = None
    return replace(
        state,
        arrangement=Arrangement(now.dead and not event.powered, frozenset(ordered)),
        opened=ordered,
        proven_at=None,
        confirmed=None,
        running=running,
        isolation_begun=touched and not event.powered,
    )


def _procedure(
    walk: Walk, state: State, event: StepDone | AbsenceMeasured | ProcedureDone | RepeatChosen | StepTakenBack
) -> State:
    if isinstance(event, StepTakenBack):
        # "I did not do that": the car is live from now on, whatever was believed before.
        now = Arrangement(False, state.arrangement.open)
        return replace(
            state,
            arrangement=now,
            running=None,
            proven_at=None,
            # Where voltage was found, the next proof is of a whole making safe, not of the measurement alone.
            isolation_begun=not state.voltage_found,
            confirmed=None,
        )
    if isinstance(event, RepeatChosen):
        whole = due_steps(walk, state, MAKE_SAFE)
        return replace(state, running=Running(MAKE_SAFE, repeat_steps(walk) if state.isolation_begun else whole))
    if isinstance(event, ProcedureDone):
        return _done(walk, state, event)
    running = state.running or _begun(walk, state, event)
    running = replace(running, done=running.done + 1)
    if isinstance(event, AbsenceMeasured):
        state = replace(state, absences=(*state.absences, event))
        if not event.proven:
            now = Arrangement(False, state.arrangement.open)
            return replace(
                state, arrangement=now, running=None, voltage_found=True, proven_at=None, isolation_begun=True
            )
    state = replace(state, running=running)
    if running.procedure == RE_ENERGISE:
        # From the first step on nothing keeps the voltage away.
        return replace(state, arrangement=Arrangement(False, state.arrangement.open), proven_at=None)
    return replace(state, isolation_begun=True) if running.procedure == MAKE_SAFE else state


def _unconfirmed(walk: Walk, state: State) -> State:
    """A confirmation goes, never what was done: the car stays half isolated or half connected, and nothing is proven.

    Without any confirmed step no procedure is under way: what is due follows from the job again.
    """
    running = state.running
    if running is None or running.done == 0:
        return state
    running = replace(running, done=running.done - 1)
    measured = walk.catalogue.procedures[running.procedure].steps[running.index].kind == "absence"
    touched = state.isolation_begun or running.procedure == RE_ENERGISE
    return replace(
        state,
        running=running if running.done else None,
        proven_at=None,
        isolation_begun=touched and not state.arrangement.dead,
        absences=state.absences[:-1] if measured else state.absences,  # else it would tell the age of the next proof
    )


def _begun(walk: Walk, state: State, event: StepDone | AbsenceMeasured) -> Running:
    procedure = MAKE_SAFE if isinstance(event, AbsenceMeasured) else event.procedure
    return Running(procedure, due_steps(walk, state, procedure, event.index))


def _measured_at(walk: Walk, state: State) -> str:
    """Return when the absence was measured: what ages is the reading, not the tester's last proof."""
    steps = walk.catalogue.procedures[MAKE_SAFE].steps
    count = sum(step.kind == "absence" for step in steps)
    return min((measured.at for measured in state.absences[-count:]), default="")


def _done(walk: Walk, state: State, event: ProcedureDone) -> State:
    now = state.arrangement
    minutes = (
        walk.catalogue.procedures[event.procedure].minutes if event.procedure in walk.catalogue.procedures else 0.0
    )
    state = replace(state, running=None)
    if event.procedure == MAKE_SAFE:
        proven = replace(
            state,
            arrangement=Arrangement(True, now.open),
            proven_at=_measured_at(walk, state),
            isolation_begun=False,
            voltage_found=False,
        )
        # A repeated proof on a car that is dead already costs nothing in the sums: they know no repeats.
        return proven if now.dead else replace(proven, spent=(*state.spent, Spent(MAKE_SAFE, "", minutes)))
    if event.procedure == RE_ENERGISE:
        return replace(
            state,
            arrangement=Arrangement(False, now.open),
            proven_at=None,
            isolation_begun=False,
            spent=(*state.spent, Spent(RE_ENERGISE, "", minutes)),
        )
    assert event.procedure == HAND_BACK
    return replace(state, spent=(*state.spent, Spent(HAND_BACK, "", minutes)))
