"""The prompts that bring the car to what a job needs: accesses, making safe, proof of absence, re-energising.

The author of a tree writes none of these: they follow from `needs` (docs/meaning.md, "Safety").
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from diagtree.knowledge.limits import LimitError, evaluate
from diagtree.knowledge.words import HAND_BACK, MAKE_SAFE, RE_ENERGISE, ProcedureStep
from diagtree.reason.arrangement import Move, Moved, Need, may_be_shown, relies_on_dead
from diagtree.reason.sharing import sharing
from diagtree.walk import cautions
from diagtree.walk.absence import pairs
from diagtree.walk.ask_ending import owner_words, untried
from diagtree.walk.context import Walk
from diagtree.walk.events import (
    AbsenceMeasured,
    Answered,
    Closed,
    Event,
    Opened,
    RepeatChosen,
    StepDone,
    StepTakenBack,
)
from diagtree.walk.judging import with_supplied
from diagtree.walk.procedures import absence_steps, due_steps
from diagtree.walk.prompts import Field, Fields, Kind, Prompt, Tick
from diagtree.walk.route import ToEnd, ToTest, route
from diagtree.walk.state import Running, State

_KIND_WORDS = {
    "unplug": "Unplug the charge cable.",
    "switch-off": "Switch the car off; key out of reach.",
    "disconnect": "Disconnect by the maker's procedure (service disconnect, 12 V).",
    "secure": "Secure against switching on again. Who holds the key or the lock?",
    "wait": "Wait for the capacitors to discharge.",
    "prove-tester": "Prove the voltage tester on a known source.",
    "absence": "Measure the absence of voltage.",
}
_TYPE_DONE = "Type `done` when it is done."
_TYPE_DONE_ANSWERED = "Answer that first; then type `done`, if all is as it must be."
_YES_WHERE_SO = "`yes` if it is so, then what was seen"
_WHAT_WAS_SEEN = "the answer, as it was seen"  # a question is not answered by `done`
_SAYS = {
    "secure": "who holds the key or the lock",
    "prove-tester": "`yes` if it does, which known source, what it showed",
}
_YES, _LEFT_OUT = "yes", "left out"
_OPEN_QUESTIONS = ("who", "what", "which", "where", "when", "how")
_OTHERWISE = {
    MAKE_SAFE: "the car counts as live. Take another tester, or `leave`, and say `did-not` of what was not done.",
    RE_ENERGISE: "switch off, say `changed`, and make the car safe again before anybody works on it.",
    HAND_BACK: f"mend it first, or begin with `{_LEFT_OUT}` and say why; the record shows it.",
}
_TITLES = {MAKE_SAFE: "Make safe", RE_ENERGISE: "Re-energise", HAND_BACK: "Hand back"}


def proof_is_good(walk: Walk, state: State, now: str) -> bool:
    """Return whether the last proof of the absence of voltage is still good at the time `now`."""
    if state.proven_at is None or not state.arrangement.dead:
        return False
    holds = walk.absence_holds
    if holds is None:
        return True
    age = minutes_between(state.proven_at, now)
    return age is not None and 0 <= age <= holds  # a clock that was set back proves nothing


def minutes_between(earlier: str, later: str) -> float | None:
    """Return the minutes from one ISO time to another; None where they cannot be compared. [min]"""
    try:
        return (datetime.fromisoformat(later) - datetime.fromisoformat(earlier)).total_seconds() / 60
    except (ValueError, TypeError):
        return None


def minutes_since_act(events: Sequence[Event], now: str) -> float | None:
    """Return the minutes since the last act on the car, by the clock of the case; None where that cannot be told."""
    acts = (StepDone, AbsenceMeasured, RepeatChosen, StepTakenBack, Opened, Closed)
    since = next((one.at for one in reversed(events) if isinstance(one, acts)), events[0].at if events else "")
    minutes = minutes_between(since, now)
    return None if minutes is None or minutes < 0 else minutes


def time_words(minutes: float) -> str:
    """Return a time that went by as a short text: `1 s`, `14 min`."""
    seconds = round(60 * minutes)
    return f"{seconds} s" if seconds < 120 else f"{minutes:.0f} min"


def approach(walk: Walk, state: State, need: Need, now: str, *, test: str | None, why: str) -> Prompt | None:
    """Return the next thing to do before a job with this `need` may be shown, or None where it may be.

    test : the test this serves, so that `not-done` may be said at once. why : the job in words.
    """
    running = state.running
    if running is not None:
        return procedure_prompt(walk, state, running, test, why)
    arrangement = state.arrangement
    moves = walk.layout.moves(arrangement, need)
    live_work = need.road or need.power.value == "live"
    closing = any(moved.move in (Move.CLOSE, Move.MAKE_SAFE) for moved in moves)
    if state.isolation_begun and not arrangement.dead and live_work and not closing:
        # Half isolated, and nothing stands open that must be shut first: connect what was disconnected.
        return _procedure(walk, state, RE_ENERGISE, test, why)
    needs_proof = relies_on_dead(walk.layout, arrangement, need) or _touches_dead_only(walk, moves)
    if arrangement.dead and needs_proof and not proof_is_good(walk, state, now):
        return procedure_prompt(walk, state, Running(MAKE_SAFE, absence_steps(walk)), test, why)
    if moves:
        return _move_prompt(walk, state, moves, test, why)
    assert may_be_shown(walk.layout, arrangement, need, absence_proven=proof_is_good(walk, state, now))
    return None


def _touches_dead_only(walk: Walk, moves: tuple[Moved, ...]) -> bool:
    """Whether the next move opens or closes an access that may be open only on a dead car."""
    first = moves[0].access if moves else None
    return first is not None and walk.catalogue.access[first].dead_only


def _move_prompt(walk: Walk, state: State, moves: tuple[Moved, ...], test: str | None, why: str) -> Prompt:
    first = moves[0]
    if first.move is Move.MAKE_SAFE:
        return _procedure(walk, state, MAKE_SAFE, test, why)
    if first.move is Move.RE_ENERGISE:
        return _procedure(walk, state, RE_ENERGISE, test, why)
    assert first.access is not None
    access = walk.catalogue.access[first.access]
    opening = first.move is Move.OPEN
    lines = [f"For: {why}", f"Takes {access.open if opening else access.close:g} min."]
    left = [walk.catalogue.access[moved.access].name for moved in moves[1:] if moved.access]
    if left:
        lines.append("After it: " + ", ".join(left))
    if not opening and not _repaired(walk, state):
        lines.extend(_shared(walk, state, first.access))
    near = (cautions.HIGH_VOLTAGE, cautions.LAW_FIRST) if access.dead_only else ()
    return Prompt(
        kind=Kind.OPEN if opening else Kind.CLOSE,
        key=access.id,
        heading=("Open: " if opening else "Put back: ") + access.name,
        ask=f"{'Open or remove' if opening else 'Close or refit'} the {access.name}. Type `done` when it is.",
        form=Tick(),
        about=tuple(lines),
        cautions=(*near, *access.mind),
        not_done=test is not None,
        did_not=state.arrangement.dead,
        test=test,
    )


def _repaired(walk: Walk, state: State) -> bool:
    """Whether a repair was made and nothing is searched for: what is measured after it, its own steps say."""
    return bool(state.corrected) and not isinstance(route(walk, state).goal, ToTest)


def _shared(walk: Walk, state: State, access_id: str) -> list[str]:
    """Name the tests not yet answered that this access serves, with their money now and once all is put back.

    Those that still tell the causes apart come first; the others only by name.
    """
    answered = {item.test for item in state.items if isinstance(item, Answered)}
    left = [test for test in walk.catalogue.tests.values() if test.id not in answered]
    telling = set(untried(walk, route(walk, state)))
    found = sharing(left, walk.layout, walk.house, state.arrangement, access_id)
    lines = [
        f"Cheap now, dear later, while this is open: `do {one.test}` costs {one.now:,.0f} now, {one.later:,.0f} later"
        for one in found if one.test in telling
    ]
    others = sorted(one.test for one in found if one.test not in telling)
    if others:
        lines.append(f"It also serves, though in the search for the cause they tell nothing new: {', '.join(others)}")
    return lines


def _procedure(walk: Walk, state: State, procedure: str, test: str | None, why: str) -> Prompt:
    found = walk.catalogue.procedures.get(procedure)
    count = len(found.steps) if found else 0
    if count == 0:
        return _without_steps(procedure, test, why)
    return procedure_prompt(walk, state, Running(procedure, tuple(range(count))), test, why)


def _without_steps(procedure: str, test: str | None, why: str) -> Prompt:
    return Prompt(
        kind=Kind.PROCEDURE,
        key=f"{procedure}:-1",
        heading=_TITLES[procedure],
        ask=f"{_TITLES[procedure]} by the maker's procedure. Type `done` when it is.",
        form=Tick(),
        about=(f"For: {why}",),
        cautions=(cautions.COUNTS_AS_LIVE, cautions.LAW_FIRST),
        not_done=test is not None,
        test=test,
    )


def hand_back_prompt(walk: Walk, state: State) -> Prompt:
    """Return the first step of the last look before the key goes back, with the advice that the case ends in.

    An advice chosen among what remains was seen by its cause's name only: here its words are read before the key goes.
    """
    indices = due_steps(walk, state, HAND_BACK)
    if not indices:
        prompt = _without_steps(HAND_BACK, None, "the key goes back")
    else:
        prompt = procedure_prompt(walk, state, Running(HAND_BACK, indices), None, "the key goes back")
    return replace(prompt, about=(*prompt.about, *_advice(walk, state)))


def _advice(walk: Walk, state: State) -> tuple[str, ...]:
    found = route(walk, state)
    cause = walk.catalogue.causes.get(found.cause or "")
    if not isinstance(found.goal, ToEnd) or found.goal.how != "advised" or cause is None or cause.advise is None:
        return ()
    return (f"Advice: {cause.advise.do}", *owner_words(cause))


def procedure_prompt(walk: Walk, state: State, running: Running, test: str | None, why: str) -> Prompt:
    """Return the prompt of the step that is due in a procedure."""
    procedure = walk.catalogue.procedures[running.procedure]
    step = procedure.steps[running.index]
    again = running.procedure == MAKE_SAFE and len(running.indices) < len(procedure.steps)
    title = "Prove the absence of voltage again" if again else _TITLES[running.procedure]
    heading = f"{title}, step {running.done + 1} of {len(running.indices)}"
    said: list[str] = [f"For: {why}"]
    if running.procedure == MAKE_SAFE and running.done == 0 and not again:
        said.append(f"{len(running.indices)} steps, about {procedure.minutes:g} min in all.")
    warned = [*procedure.mind, *step.mind]
    if running.procedure != HAND_BACK:
        warned = [cautions.COUNTS_AS_LIVE, cautions.LAW_FIRST, *warned]
    text = step.do or _KIND_WORDS.get(step.kind, step.kind)
    if step.kind == "absence":
        return _absence_prompt(walk, state, running, step, heading, said, warned, test)
    if step.kind == "wait":
        text = f"{text} {_wait_words(walk, state, step)}"
    asks = text.rstrip().endswith("?")
    good = _good(running.procedure, step.kind, text)
    return Prompt(
        kind=Kind.PROCEDURE,
        key=f"{running.procedure}:{running.index}",
        heading=heading,
        ask=text if good else f"{text} {_TYPE_DONE_ANSWERED if asks else _TYPE_DONE}",
        form=Tick(
            says=_SAYS.get(step.kind, _YES_WHERE_SO if good else _WHAT_WAS_SEEN if asks else ""), good=good,
            otherwise=_otherwise(state, running) if good else "",
            wait=_wait_minutes(walk, state, step) or 0.0,
        ),
        about=tuple(said),
        cautions=tuple(dict.fromkeys(warned)),
        not_done=test is not None,
        did_not=running.procedure == MAKE_SAFE and (running.done > 0 or state.arrangement.dead),
        test=test,
    )


def _otherwise(state: State, running: Running) -> str:
    """Return what to do where a step is not as it must be."""
    if running.procedure == RE_ENERGISE and running.done == 0 and state.arrangement.dead:
        return "the car stays isolated. Put right what is missing, then answer again, or `leave`."
    return _OTHERWISE[running.procedure]


def confirmed_words(walk: Walk, state: State) -> str:
    """Return in one line which steps of the procedure under way are confirmed, for somebody who comes back to it."""
    running = state.running
    if running is None or running.done == 0:
        return ""
    steps = walk.catalogue.procedures[running.procedure].steps
    kinds = [steps[index].kind.replace("-", " ") for index in running.indices[: running.done]]
    named = (f"{kind} ({kinds.count(kind)})" if kinds.count(kind) > 1 else kind for kind in dict.fromkeys(kinds))
    return f"{_TITLES[running.procedure]}, confirmed before: {', '.join(named)}."


def _good(procedure: str, kind: str, text: str) -> tuple[str, ...]:
    """Return how the answer to a step must begin: questions that are no open ones want a yes, a proof does too."""
    question = text.rstrip().rpartition(". ")[2].strip()
    opens = question.casefold().startswith(_OPEN_QUESTIONS)
    if kind != "prove-tester" and (kind == "secure" or opens or not question.endswith("?")):
        return ()
    return (_YES, _LEFT_OUT) if procedure == HAND_BACK else (_YES,)


def _wait_words(walk: Walk, state: State, step: ProcedureStep) -> str:
    minutes = _wait_minutes(walk, state, step)
    if minutes is None:
        return "Wait as long as the maker's procedure demands (this profile does not say how long)."
    return f"Wait at least {minutes:g} min by the clock."


def _wait_minutes(walk: Walk, state: State, step: ProcedureStep) -> float | None:
    """Return how long a step waits at least; None where it is no wait, or the profile does not say. [min]"""
    if step.kind != "wait" or step.minutes is None:
        return None
    try:
        return evaluate(step.minutes, {"vehicle": with_supplied(walk.facts, state.facts)})
    except LimitError:
        return None


def _absence_prompt(
    walk: Walk,
    state: State,
    running: Running,
    step: ProcedureStep,
    heading: str,
    said: list[str],
    warned: list[str],
    test: str | None,
) -> Prompt:
    wanted = pairs(walk, step, state.facts)
    fields = tuple(
        Field(name=f"pair{number}", text=f"{pair.points} in plain volts", unit="volt", plain=True)
        for number, pair in enumerate(wanted, start=1)
    )
    return Prompt(
        kind=Kind.ABSENCE,
        key=f"{MAKE_SAFE}:{running.index}",
        heading=heading,
        ask=step.do or "Measure the absence of voltage between each pair of points.",
        form=Fields(fields),
        about=(*said, "Type what the tester shows, in volts, with its sign; `OL` where it is above the range."),
        cautions=tuple(dict.fromkeys(warned)),
        not_done=test is not None,
        did_not=True,
        test=test,
    )
