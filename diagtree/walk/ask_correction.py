"""The prompts of a correction: the work itself, then the proof charge and its result."""

from __future__ import annotations

from diagtree.knowledge.words import Cause, Where
from diagtree.reason.arrangement import LIVE, may_be_shown
from diagtree.walk import cautions
from diagtree.walk.approach import approach, proof_is_good
from diagtree.walk.ask_ending import proof_minutes
from diagtree.walk.context import Walk
from diagtree.walk.danger_history import looks_on_record
from diagtree.walk.events import Answered
from diagtree.walk.judging import with_supplied
from diagtree.walk.prompts import Choice, Field, Fields, Kind, Option, Prompt, Tick
from diagtree.walk.route import Route
from diagtree.walk.state import State

PROOF_KEY = "proof"


def correction_prompt(walk: Walk, state: State, found: Route, cause: Cause, now: str) -> Prompt:
    """Return what is due: access and power for the work, the work, live power for the proof, the proof, its result."""
    correction = cause.correction
    assert correction is not None
    if state.charged is not None and state.charged.cause == cause.id:
        return _result(walk, found, cause, state)
    if cause.id in state.corrected:
        return _proof(walk, state, found, cause, now)
    need = walk.layout.need(correction.needs)
    coming = approach(walk, state, need, now, test=None, why=correction.do)
    if coming is not None:
        return coming
    key = f"correct:{cause.id}"
    if correction.needs.state and state.confirmed != key:
        return _conditions(walk, state, key, correction.needs.state, correction.do)
    good = proof_is_good(walk, state, now)
    assert may_be_shown(walk.layout, state.arrangement, need, absence_proven=good)
    near = any(walk.catalogue.access[item].dead_only for item in need.open)
    parts = [f"Part: {part.name}" for part in correction.parts]
    tools = [f"Tools: {', '.join(correction.needs.tools)}"] if correction.needs.tools else []
    return Prompt(
        kind=Kind.CORRECTION,
        key=cause.id,
        heading="Correction",
        ask=f"{correction.do.rstrip(' .')}. Type `done` when every line is done.",
        form=Tick(says="what was fitted, anything found on the way"),
        how=correction.how,
        about=(f"About {correction.minutes:g} min", *parts, *tools),
        cautions=cautions.job_cautions(
            correction.needs,
            Where.BAY,
            correction.qualification,
            correction.mind,
            dead=state.arrangement.dead,
            dead_only_near=near,
        ),
        did_not=state.arrangement.dead,
    )


def _conditions(walk: Walk, state: State, key: str, conditions: tuple[str, ...], why: str) -> Prompt:
    return Prompt(
        kind=Kind.CONDITIONS,
        key=key,
        heading="Before this",
        ask="Does all of this hold? Type `yes` when it does.",
        form=Tick(word="yes"),
        how=conditions,
        about=(f"For: {why}", *looks_on_record(walk, state, conditions)),
    )


def _proof(walk: Walk, state: State, found: Route, cause: Cause, now: str) -> Prompt:
    from diagtree.walk.watched import power_field, watched_fields  # a proof comes late in a walk

    proof = cause.proof
    assert proof is not None
    why = f"proof: {proof.charge.upper()} charge"
    coming = approach(walk, state, LIVE, now, test=None, why=why)
    if coming is not None:
        return coming
    if state.arrangement.open and state.confirmed != PROOF_KEY:
        return _conditions(walk, state, PROOF_KEY, (cautions.BARRIER, cautions.STAYS), why)
    minutes, reason = proof_minutes(found, cause)
    fields = [
        Field("minutes", "minutes charged", "minute", counts=True),
        Field("watched", _watched_words(proof.attended), "minute", counts=True),
        power_field(proof, with_supplied(walk.facts, state.facts)),
        Field("cut_out", "did it cut out", number=False, words=("yes", "no")),
    ]
    fields += watched_fields(proof)
    return Prompt(
        kind=Kind.PROOF,
        key=cause.id,
        heading="Proof of the fix",
        ask=f"Charge the car by {proof.charge.upper()} for at least {minutes:g} min{reason}, then type what was seen.",
        form=Fields(tuple(fields)),
        how=tuple(f"Watch: {name.replace('_', ' ')}" for name in proof.watch),
        about=_open_lines(walk, state),
        cautions=(cautions.LIVE_TEST, cautions.LAW_FIRST),
    )


def _watched_words(least: float | None) -> str:
    return "minutes somebody watched it" + (f" (a proof needs {least:g})" if least is not None else "")


def _open_lines(walk: Walk, state: State) -> tuple[str, ...]:
    if not state.opened:
        return ()
    names = ", ".join(walk.catalogue.access[item].name for item in state.opened)
    return (f"Still open, to go back after the proof: {names}",)


def _result(walk: Walk, found: Route, cause: Cause, state: State) -> Prompt:
    from diagtree.walk.proof_doubt import doubts  # a proof comes late in a walk

    charged = state.charged
    assert charged is not None
    minutes, _ = proof_minutes(found, cause)
    seen = [f"{name.replace('_', ' ')}: {text}" for name, text in charged.seen.items()]
    cut = "cut out" if charged.cut_out else "did not cut out"
    doubted = doubts(walk, cause, charged, _answered(state), state.facts)
    options = [
        Option("fixed", "fixed: the complaint is gone", doubt="; ".join(doubted)),
        Option("not-fixed", "not fixed: this was not the cause"),
        Option("partly", "partly: better, not well; the repair stays"),
        Option("again", "charge once more"),
    ]
    return Prompt(
        kind=Kind.PROOF_RESULT,
        key=cause.id,
        heading="Result of the proof",
        ask="Is the complaint gone?",
        form=Choice(tuple(options)),
        about=(
            f"Charged {charged.minutes:g} min (needed: {minutes:g}), watched {charged.watched:g} min, "
            f"{charged.power}, {cut}",
            *seen,
        ),
    )


def _answered(state: State) -> tuple[Answered, ...]:
    return tuple(item for item in state.items if isinstance(item, Answered))


def proof_falls_short(walk: Walk, found: Route, cause: Cause, state: State) -> str:
    """Return why the proof that was run does not show a fix, or `` where it does."""
    from diagtree.walk.proof_doubt import beyond_limit

    charged = state.charged
    assert charged is not None
    minutes, _ = proof_minutes(found, cause)
    if charged.cut_out:
        return "the charge cut out: that is no proof of a fix; say `not-fixed` or `partly`, or `again`"
    if not any(digit in charged.power for digit in "123456789"):
        return "no power was seen: a charge that does not flow proves nothing; say `not-fixed` or `again`"
    attended = cause.proof.attended if cause.proof is not None else None
    if attended is not None and charged.watched < attended:
        return f"watched for {charged.watched:g} of {attended:g} min: watch it longer (`again`), or say `partly`"
    if charged.minutes < minutes:
        return (
            f"the proof ran {charged.minutes:g} of {minutes:g} min: too short to show a fix; "
            "say `again` and charge on, or `partly`"
        )
    beyond = beyond_limit(walk, charged, state.facts)
    return f"{beyond}; that is no proof of a fix: say `not-fixed` or `partly`, or `again`" if beyond else ""
