"""What a round on a simulated car says about each subject."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from diagtree.knowledge.words import MAKE_SAFE, Catalogue, Power
from diagtree.quiz.choices import Kind
from diagtree.quiz.events import Corrected, Event, Moved, Tested, WentWrong
from diagtree.quiz.round import Round
from diagtree.quiz.score import Decision
from diagtree.quiz.subject import SAFETY, subject_of, subject_of_cause


def decided_in(played: Round, events: Sequence[Event], decisions: Iterable[Decision]) -> list[tuple[str, bool]]:
    """Return the decisions that count for progress: subject, and whether it was right.

    A test counts for its subject, a correction or an advice for that of its cause: right where nothing is proven
    against it. An unsafe act is a wrong decision of safety; making safe, and work on a car that is dead for it, a right
    one. Opening and closing, hints and referring count in the money only; what a hint told and was done shows nothing
    of what the trainee knows, and does not count at all.
    """
    catalogue = played.walk.catalogue
    found = []
    for one in decisions:
        if one.as_hinted:
            continue
        if one.choice.kind is Kind.TEST:
            found.append((subject_of(catalogue.tests[one.choice.id or ""], catalogue), one.right))
        elif one.choice.kind in (Kind.CORRECT, Kind.ADVISE):
            found.append((subject_of_cause(one.choice.id or "", catalogue), one.right))
    return [*found, *((SAFETY, right) for event in events if (right := _safe(event, catalogue)) is not None)]


def _safe(event: Event, catalogue: Catalogue) -> bool | None:
    """Return whether an event shows that the trainee minds safety; None where it says nothing about that."""
    match event:
        case WentWrong():
            return False
        case Moved(kind=kind):
            return True if kind == MAKE_SAFE else None
        case Tested(test=test):
            return True if catalogue.tests[test].needs.power is Power.DEAD else None
        case Corrected(cause=cause):
            done = catalogue.causes[cause].correction
            return True if done is not None and done.needs.power is Power.DEAD else None
        case _:
            return None
