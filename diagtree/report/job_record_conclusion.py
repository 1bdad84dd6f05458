"""The conclusion of a case: the named cause, how sure, what argues for and against it, the repair and its proof."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from diagtree.knowledge.words import Cause, Conclude, HandOver, Refer
from diagtree.reason.evidence import Belief
from diagtree.reason.evidence_words import Argument, arguments
from diagtree.report.job_record_answers import fate, taken_back
from diagtree.report.job_record_values import CauseChance, ChargeRecord, Conclusion, CorrectionRecord, Saying
from diagtree.walk.ask_ending import (
    cause_name,
    correction_lines,
    doubts,
    owner_words,
    percent,
    proof_minutes,
    refer_target,
)
from diagtree.walk.context import Walk
from diagtree.walk.dangers import BY_ID, STAND_BACK
from diagtree.walk.events import (
    Answered,
    ChargeAgain,
    Corrected,
    Event,
    FactSupplied,
    Looked,
    Noted,
    ProofCharged,
    ProofJudged,
)
from diagtree.walk.proof_doubt import beyond_limit
from diagtree.walk.proof_doubt import doubts as doubts_of_proof
from diagtree.walk.route import Route, ToReadDanger, evidence_here
from diagtree.walk.state import State

RULED_OUT = 0.01  # a cause less likely than this counts as ruled out by the evidence. [-]
_TELLING = 0.9  # an answer that leaves the odds of a cause at more than this share of what they were says little


def conclusion(walk: Walk, state: State, found: Route, beliefs: Belief, closed: bool) -> Conclusion:
    """Return how the case ended, or where it stands. closed : by its status in the store, by hand perhaps."""
    cause = named(walk, found)
    said = _arguments(walk, found, cause.id) if cause else ()
    planned: tuple[str, ...] = ()
    if cause is not None and cause.correction is not None and cause.id not in state.corrected:
        planned = correction_lines(walk, found, cause)
    return Conclusion(
        words=_words(state, found, cause, closed),
        cause=cause.name if cause else "",
        chance=beliefs.chances.get(cause.id) if cause else None,
        chances=tuple(CauseChance(one, cause_name(walk, one), chance) for one, chance in beliefs.ranked()),
        doubts=doubts(beliefs),
        arguments_for=tuple(item.words for item in said if item.ratio > 1 / _TELLING),
        arguments_against=tuple(item.words for item in said if item.ratio < _TELLING),
        planned=planned,
        owner=_owner(state, found, cause),
    )


def named(walk: Walk, found: Route) -> Cause | None:
    """Return the cause that the case names: the one acted on last, else the tree's; never one that was struck out."""
    wanted = found.cause if found.cause is not None and found.cause not in found.struck else None
    if wanted is None and isinstance(found.ending, Conclude) and found.ending.cause not in found.struck:
        wanted = found.ending.cause
    return walk.catalogue.causes.get(wanted) if wanted is not None else None


def _words(state: State, found: Route, cause: Cause | None, closed: bool) -> str:
    name = cause.name if cause else ""
    match state.closed:
        case "fixed":
            return f"Corrected, and judged fixed by a proof charge: {name}"
        case "advised":
            return f"Advice given: {name}"
        case "referred":
            return f"Referred to: {refer_target(found)}" + (f" (named cause: {name})" if name else "")
        case "set-apart":
            return f"Danger found: the car was set apart and referred to: {refer_target(found)}"
        case "left-isolated":
            return "Voltage was found: the car was left isolated and referred"
    if closed:
        return "Closed by hand before its walk came to an end; see the notes"
    if isinstance(found.goal, ToReadDanger):
        return "DANGER: the work stopped; the case is still open"
    if cause is not None:
        return f"Cause named, case still open: {name}"
    if isinstance(found.ending, Refer):
        return f"To be referred, case still open: {found.ending.to}"
    if isinstance(found.ending, HandOver):
        return f"To go on in the tree {found.ending.tree}, case still open"
    return "No conclusion yet: the case is still open"


def _owner(state: State, found: Route, cause: Cause | None) -> tuple[str, ...]:
    """Return advice and the words for the owner where the car does not leave corrected."""
    if found.danger:
        return (*STAND_BACK, *_calls(state))
    if cause is not None and cause.advise is not None:
        return (f"Advice: {cause.advise.do}", *owner_words(cause))
    if state.closed in ("referred", "left-isolated") or isinstance(found.ending, Refer):
        target = refer_target(found)
        return (f"For the owner: this needs {target}; until then follow the safety advice on the record.",)
    return ()


def _calls(state: State) -> Iterator[str]:
    for item in state.items:
        if isinstance(item, Looked) and item.found in BY_ID:
            yield f"Call: {BY_ID[item.found].call}."
    yield from ("Call: a qualified high-voltage technician.",)


def _arguments(walk: Walk, found: Route, cause: str) -> tuple[Argument, ...]:
    shares = walk.tree_of(found.tree).causes
    if cause not in shares:
        return ()
    return arguments(cause, shares, evidence_here(walk, found), walk.catalogue, struck=found.struck)


def ruled_out(walk: Walk, found: Route, beliefs: Belief) -> tuple[CauseChance, ...]:
    """Return the causes that were struck out or are less likely than one in a hundred, and by which test."""
    rows = []
    for cause, chance in beliefs.ranked():
        if cause in found.struck:
            rows.append(CauseChance(cause, cause_name(walk, cause), 0.0, "its correction did not bring the car back"))
        elif chance < RULED_OUT and not beliefs.impossible:
            rows.append(CauseChance(cause, cause_name(walk, cause), chance, _by_which(walk, found, cause)))
    return tuple(rows)


def _by_which(walk: Walk, found: Route, cause: str) -> str:
    against = [item for item in _arguments(walk, found, cause) if item.ratio < _TELLING]
    if against:
        return "by " + ", ".join(f"{item.test} ({item.outcome})" for item in against[:3])
    return "rare from the start; no test speaks against it"


# --- corrections and their proofs -------------------------------------------------------------------------------


def corrections(walk: Walk, events: Sequence[Event], found: Route) -> tuple[CorrectionRecord, ...]:
    """Return every correction that was carried out, with the charges that were to prove it."""
    records = []
    for place, event in enumerate(events):
        if not isinstance(event, Corrected):
            continue
        cause = walk.catalogue.causes[event.cause]
        assert cause.correction is not None
        after = events[place + 1 :]
        until = next((n for n, item in enumerate(after) if isinstance(item, Corrected)), len(after))
        records.append(
            CorrectionRecord(
                at=event.at,
                cause=cause.name,
                do=cause.correction.do,
                minutes=cause.correction.minutes,
                parts=tuple((part.name, part.price) for part in cause.correction.parts),
                said=" / ".join(
                    item.text
                    for item in after[:until]
                    if isinstance(item, Noted) and item.prompt == f"correct:{cause.id}"
                ),
                charges=tuple(_charges(walk, events, place, cause, found)),
            )
        )
    return tuple(records)


def _charges(walk: Walk, events: Sequence[Event], start: int, cause: Cause, found: Route) -> Iterator[ChargeRecord]:
    gone = taken_back(events)
    needed, why = proof_minutes(found, cause)
    places = [n for n, item in enumerate(events) if isinstance(item, ProofCharged) and item.cause == cause.id]
    for number, place in enumerate(places):
        if place < start:
            continue
        event = events[place]
        assert isinstance(event, ProofCharged)
        until = places[number + 1] if number + 1 < len(places) else len(events)
        yield ChargeRecord(
            at=event.at,
            minutes=event.minutes,
            needed=needed,
            needed_why=why.strip(),
            watched=event.watched,
            power=event.power,
            cut_out=event.cut_out,
            seen=tuple((name.replace("_", " "), text) for name, text in event.seen.items()),
            results=tuple(_results(events, place, until, cause.id, gone)),
            doubts=_doubts(walk, cause, events, place),
        )


def _doubts(walk: Walk, cause: Cause, events: Sequence[Event], place: int) -> tuple[str, ...]:
    """Return what speaks against this charge as a proof, by the catalogue's own limits, whatever was said of it."""
    charged = events[place]
    assert isinstance(charged, ProofCharged)
    before = [event for event in events[:place] if isinstance(event, Answered)]
    facts = {event.name: event.value for event in events[:place] if isinstance(event, FactSupplied)}
    beyond = beyond_limit(walk, charged, facts)
    return (*((beyond,) if beyond else ()), *doubts_of_proof(walk, cause, charged, before, facts))


def _results(events: Sequence[Event], first: int, until: int, cause: str, gone: dict[int, str]) -> Iterator[Saying]:
    for place in range(first, until):
        event = events[place]
        if isinstance(event, ProofJudged) and event.cause == cause:
            yield Saying(event.at, event.result, fate(place, gone))
        elif isinstance(event, ChargeAgain) and event.cause == cause:
            yield Saying(event.at, "to be charged once more")


def chance_words(chance: float) -> str:
    """Return a chance as the walk says it."""
    return percent(chance)


def fine_percent(chance: float) -> str:
    """Return a chance to a hundredth of a per cent, so that unlikely causes can be told apart too."""
    if chance <= 0.0:
        return "0 %"
    if chance < 0.0001:
        return "under 0.01 %"
    return "over 99.99 %" if chance > 0.9999 else f"{100 * chance:.2f} %"
