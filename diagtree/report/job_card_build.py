"""A case that began at the desk to its job card. Every figure comes from the knowledge and the answers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from diagtree.errors import DiagtreeError
from diagtree.knowledge.words import NOT_DONE, OUTSIDE, SOMETHING_ELSE, TRIAGE, Conclude
from diagtree.reason.evidence import Belief, counted
from diagtree.reason.problem import planned_tests
from diagtree.reason.walk_minutes import ACCESS, SAFE, WHO, WalkMinutes, walk_minutes
from diagtree.report import job_card_safety
from diagtree.report.job_card_values import BayTime, JobCard, Likely, Taken, Told
from diagtree.walk.ask_ending import cause_name, doubts, refer_target
from diagtree.walk.ask_start import QUESTIONS
from diagtree.walk.context import Walk
from diagtree.walk.events import GO_ON, Answered, Decided
from diagtree.walk.hearing import OWNERS_WORDS, words_before
from diagtree.walk.route import Route, ToChoose, ToDecide, ToReadDanger, ToSort, ToTest, belief, route
from diagtree.walk.state import State

KEEP = (
    "The owner's own charging cable and the portable cable stay with the car.",
    "The key, and the card or phone that starts the charge, or a way to reach the owner for it.",
    "A picture of the message or light, with date and time, if the owner has one.",
    "This card, with the owner's words as they were said.",
)
_LEAST = 0.05  # what is less likely than this is left off the list of what may be taken up
_MOST_TAKEN = 12


def job_card(walk: Walk, state: State, case: str, printed: str, *, by: str = "") -> JobCard:
    """Return the card of a case as it stands. printed : when it is made (ISO)."""
    found = route(walk, state)
    known = found.tree != TRIAGE
    tree = walk.tree_of(found.tree)
    beliefs = belief(walk, found) if known else None
    minutes = _minutes(walk, found, beliefs) if beliefs is not None else None
    outcomes = answered_outcomes(walk, found)
    complained = found.complained
    workshop = walk.library.workshop
    return JobCard(
        case=case,
        printed=printed,
        workshop=workshop.name if workshop else "",
        by=by,
        car=walk.catalogue.vehicle.name if walk.catalogue.vehicle else "not named",
        complaint=tree.id if known else "",
        title=tree.title if known else "",
        sorted_by=_sorted_by(state, found),
        words=complained.words if complained else _words_kept(state),
        cuts_out_after=complained.cuts_out_after if complained else None,
        also=tuple(complained.also.items()) if complained else (),
        look=job_card_safety.look(state),
        looked=job_card_safety.looked_words(walk, state, found, outcomes),
        danger=found.danger or isinstance(found.goal, ToReadDanger),
        told=_told(walk, state, found),
        notes=tuple(note.text for note in state.notes if note.prompt != OWNERS_WORDS),
        ranking=tuple(_ranking(walk, beliefs)) if beliefs is not None else (),
        outside=_outside(walk, beliefs) if beliefs is not None else None,
        doubt=" ".join(doubts(beliefs)) if beliefs is not None else "",
        bay=_bay(minutes) if minutes is not None else None,
        takes=_takes(walk, minutes) if minutes is not None else (),
        keep=KEEP,
        safety=job_card_safety.safety(walk, state, found, outcomes),
        stands_at=_stands_at(walk, state, found),
        go_on="" if state.closed else f"diagtree walk {case}",
    )


def _words_kept(state: State) -> str:
    return next(iter(words_before(state)), "")


def _sorted_by(state: State, found: Route) -> str:
    if found.tree == TRIAGE:
        return ""
    decided = [item for item in state.items if isinstance(item, Decided) and item.what in (GO_ON, QUESTIONS)]
    first = decided[0] if decided else None
    if first is None:
        return ""
    danger = _danger_before_hand_over(state)
    if danger is not None:
        return f"the danger that was found: {danger}"
    asked = first.what == QUESTIONS or any(
        isinstance(item, Answered) for item in state.items[: state.items.index(first)]
    )
    return "the questions at the desk" if asked else "the owner's words, as chosen at the desk"


def _danger_before_hand_over(state: State) -> str | None:
    """Return what was read as a danger right before the first other tree: that, not the words, has led there."""
    decided = [item for item in state.items if isinstance(item, Decided)]
    led = next((place for place, item in enumerate(decided) if item.what == GO_ON), 0)
    before = decided[led - 1] if led else None
    return before.key if before is not None and before.what == "read-danger" else None


def _told(walk: Walk, state: State, found: Route) -> tuple[Told, ...]:
    tree = walk.tree_of(found.tree)
    bear = frozenset(planned_tests(tree, walk.catalogue)) if found.tree != TRIAGE else frozenset[str]()
    return tuple(
        Told(item.test, walk.test(item.test).ask, item.outcome, item.reason or item.note, item.test in bear)
        for item in state.items if isinstance(item, Answered)
    )  # fmt: skip


def _ranking(walk: Walk, beliefs: Belief) -> Iterator[Likely]:
    for cause_id, chance in beliefs.ranked():
        cause = walk.catalogue.causes.get(cause_id)
        what, minutes, where = "", None, ""
        if cause is not None:
            where = cause.where
            work = cause.correction or cause.advise
            what, minutes = (work.do, work.minutes) if work else ("", None)
        yield Likely(cause_id, cause_name(walk, cause_id), where, chance, what, minutes)


def _outside(walk: Walk, beliefs: Belief) -> float:
    return sum(
        chance for cause, chance in beliefs.chances.items()
        if cause != SOMETHING_ELSE and walk.catalogue.causes[cause].where == OUTSIDE
    )  # fmt: skip


def _minutes(walk: Walk, found: Route, beliefs: Belief) -> WalkMinutes | None:
    if not isinstance(found.goal, ToTest) or found.step is None or beliefs.impossible:
        return None
    tree = walk.tree_of(found.tree)
    try:
        return walk_minutes(tree, walk.catalogue, beliefs.chances, found.step, answered_outcomes(walk, found))
    except DiagtreeError:  # a tree that leads round in a loop has no longest way; the card does without
        return None


def answered_outcomes(walk: Walk, found: Route) -> Mapping[str, str]:
    """Return each answered test's outcome that counts, as the walk follows it; `not-done` where it was left out."""
    outcomes = {test: NOT_DONE for test in found.answers if not walk.test(test).stop}
    outcomes.update({item.test: item.outcome for item in counted(found.evidence, walk.catalogue)})
    return outcomes


def _bay(minutes: WalkMinutes) -> BayTime:
    return BayTime(minutes.mean, minutes.within(0.1), minutes.within(0.5), minutes.within(0.9))


def _takes(walk: Walk, minutes: WalkMinutes) -> tuple[Taken, ...]:
    ranked = sorted(minutes.takes.items(), key=lambda item: (-item[1], item[0]))
    return tuple(
        Taken(kind, key, _taken_name(walk, kind, key), chance) for (kind, key), chance in ranked if chance >= _LEAST
    )[:_MOST_TAKEN]  # fmt: skip


def _taken_name(walk: Walk, kind: str, key: str) -> str:
    if kind == ACCESS:
        return walk.catalogue.access[key].name
    if kind == SAFE:
        return "making the car safe, absence of voltage proven"
    words = key.replace("-", " ")
    return f"somebody qualified: {words}" if kind == WHO else words


def _stands_at(walk: Walk, state: State, found: Route) -> str:
    goal = found.goal
    if state.closed is not None:
        return f"closed: {state.closed}"
    if isinstance(goal, ToTest):
        return f"next in the bay: {walk.test(goal.test).ask}"
    if isinstance(goal, ToReadDanger) or found.danger:
        return "DANGER: the car stands apart; nobody works on it until a qualified person has looked at it"
    if isinstance(goal, ToDecide) and isinstance(goal.ending, Conclude):
        return f"named by the answers at the desk: {cause_name(walk, goal.ending.cause)}"
    if isinstance(goal, ToSort):
        return "the complaint is not confirmed yet"
    if isinstance(goal, ToChoose):
        return "what remains is to be chosen"
    return f"referred to: {refer_target(found)}" if found.ending is not None else "at the desk"
