"""The job record: a case's events on the knowledge it began with, as values. Formats turn it into text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from diagtree.knowledge.words import NOT_DONE, Refer
from diagtree.reason.evidence import Belief, can_part
from diagtree.report.job_record_answers import NOT_JUDGED_YET, answers, complaints, decisions, looks, supplied
from diagtree.report.job_record_conclusion import (
    RULED_OUT,
    chance_words,
    conclusion,
    corrections,
    named,
    ruled_out,
)
from diagtree.report.job_record_safety import safety, state_now, still_open
from diagtree.report.job_record_values import AnswerRecord, CaseFacts, CorrectionRecord, JobRecord, Saying
from diagtree.walk import cautions
from diagtree.walk.account import account, minutes_spent, money_spent
from diagtree.walk.ask_ending import cause_name, untried
from diagtree.walk.context import Walk
from diagtree.walk.events import GO_ON, Decided, Event, Noted
from diagtree.walk.fold import fold
from diagtree.walk.route import Route, belief, route
from diagtree.walk.state import State

_IN_FULL = 8  # tests not done are told in full up to so many; more are told by name

__all__ = ["CaseFacts", "JobRecord", "job_record"]


def job_record(walk: Walk, events: Sequence[Event], case: CaseFacts, printed: str) -> JobRecord:
    """Return the record of a case, open, half-walked or closed.

    walk : the knowledge that the case began with. events : all of them, in order. printed : when the record is made.
    """
    state = fold(walk, events)
    found = route(walk, state)
    beliefs = belief(walk, found)
    spent = account(walk, state)
    given = answers(walk, events)
    repaired = corrections(walk, events, found)
    workshop = walk.library.workshop
    return JobRecord(
        printed=printed,
        case=case,
        workshop=workshop.name if workshop else "",
        currency=workshop.currency if workshop else "",
        rate=walk.house.rate,
        car=_car(walk),
        trees=_trees(walk, state),
        looks=looks(events),
        complaints=complaints(events),
        conclusion=conclusion(walk, state, found, beliefs, case.status == "closed"),
        corrections=repaired,
        answers=given,
        facts=supplied(events),
        decisions=decisions(walk, events),
        safety=safety(walk, events, state.facts),
        state_now=state_now(state),
        still_open=still_open(walk, state),
        notes=_notes(events),
        ruled_out=ruled_out(walk, found, beliefs),
        uncertain=tuple(dict.fromkeys(_uncertain(walk, state, found, beliefs, given, repaired))),
        account=spent,
        minutes=minutes_spent(spent),
        money=money_spent(walk, spent),
        closing=(cautions.NEVER_SAFE, cautions.LAW_FIRST),
    )


def _car(walk: Walk) -> str:
    vehicle = walk.catalogue.vehicle
    return f"{vehicle.name} (profile {vehicle.id})" if vehicle else "no profile: the catalogue as written"


def _trees(walk: Walk, state: State) -> tuple[str, ...]:
    went = [item.key for item in state.items if isinstance(item, Decided) and item.what == GO_ON]
    trees = [walk.tree_of(tree) for tree in dict.fromkeys((walk.tree, *went))]
    return tuple(f"{tree.title} ({tree.id}, revision {tree.revision})" for tree in trees)


def _notes(events: Sequence[Event]) -> tuple[Saying, ...]:
    return tuple(
        Saying(event.at, f"{event.text} (at: {event.prompt})" if event.prompt else event.text)
        for event in events
        if isinstance(event, Noted)
    )


def _uncertain(
    walk: Walk,
    state: State,
    found: Route,
    beliefs: Belief,
    given: Sequence[AnswerRecord],
    repaired: Sequence[CorrectionRecord],
) -> Iterator[str]:
    """Give what remains uncertain, a sentence each."""
    cause = named(walk, found)
    for other, chance in beliefs.ranked():
        if chance >= RULED_OUT and (cause is None or other != cause.id):
            yield f"Other cause: {cause_name(walk, other)}, {chance_words(chance)} by the evidence"
    yield from _unproven(repaired)
    standing = [answer for answer in given if not answer.fate or answer.fate == NOT_JUDGED_YET]
    answered = {answer.test for answer in standing if answer.outcome not in ("", NOT_DONE)}
    for answer in standing:
        if answer.outcome == NOT_DONE and answer.test not in answered:
            yield f"Test not done: {answer.ask} ({answer.test}): {answer.reason}"
        elif answer.close:
            yield f"Close to a limit: {answer.test}, {answer.judged}"
        if answer.compared:
            yield f"Judged by comparison on the same car, without the maker's value: {answer.test}"
        if answer.fate:
            yield f"Measured but not judged yet: {answer.test}"
    if not isinstance(found.ending, Refer) or not found.danger:
        yield from _tests_left(walk, found, beliefs)
    for name in still_open(walk, state):
        yield f"Still open by this record: {name}"


def _tests_left(walk: Walk, found: Route, beliefs: Belief) -> Iterator[str]:
    """Give the tests not done: in full those that part causes which are not ruled out, the others by name."""
    alive = {cause: chance for cause, chance in beliefs.chances.items() if chance >= RULED_OUT}
    left = untried(walk, found)
    parting = [test for test in left if can_part(alive, walk.test(test), walk.catalogue)]
    if len(parting) > _IN_FULL:
        yield f"Tests not done that could still part the causes that are left: {', '.join(parting)}"
    for test in parting if len(parting) <= _IN_FULL else ():
        yield f"Test not done, could still part the causes that are left: {walk.test(test).ask} ({test})"
    others = [test for test in left if test not in parting]
    if others:
        yield f"Tests not done that part only causes under 1 %: {', '.join(others)}"


def _unproven(repaired: Sequence[CorrectionRecord]) -> Iterator[str]:
    for correction in repaired:
        if not correction.charges:
            yield f"Correction without a proof charge: {correction.cause}"
            continue
        last = correction.charges[-1]
        results = [item.text for charge in correction.charges for item in charge.results if not item.fate]
        if "fixed" not in results:
            judged = results[-1] if results else "not judged yet"
            yield f"Fix not proven: {correction.cause}, proof judged: {judged}"
        elif last.watched < last.minutes:
            yield (
                f"Proof charge of {correction.cause}: {last.minutes:g} min charged, "
                f"{last.watched:g} min of them watched"
            )
        if "fixed" in results:
            yield "One charge without the fault shows less where the fault comes and goes"
