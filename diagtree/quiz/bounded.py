"""What a decision can cost at most, whatever a search cut short has found: nobody is charged for our own haste.

After a test or a hint all can still be done that could be done before, and more is known: its regret is at most its own
price. After opening, closing, making safe or re-energising, the way back leads to the state before: its regret is at
most the way there and back. These hold for the exact regrets, so they only correct what a search has not finished.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from diagtree.knowledge.words import MAKE_SAFE, RE_ENERGISE
from diagtree.quiz.events import Event, Hinted, Moved, Tested
from diagtree.quiz.round import Round
from diagtree.quiz.score import Decision, judged


def bounded(played: Round, event: Event, scored: Decision) -> Decision:
    """Return the score of the decision that led to `event`, no higher than such a decision can cost. [money]"""
    if isinstance(event, Tested | Hinted):
        most = event.money
    elif isinstance(event, Moved):
        most = event.money + played.problem.money(_minutes_back(played, event))
    else:
        return scored
    if max(scored.regret, scored.at_most) <= most:
        return scored
    return replace(
        scored,
        regret=min(scored.regret, most),
        at_least=min(scored.at_least, most),
        at_most=min(scored.at_most, most),
    )


def all_bounded(
    played: Round, events: Sequence[Event], allow: Callable[[], Callable[[], bool]]
) -> tuple[Decision, ...]:
    """Return the bounded scores of all decisions among `events`. allow : see `score.judged`."""
    _, found = judged(played, tuple(events), allow)
    return tuple(bounded(played, events[one.place], one) for one in found)


def _minutes_back(played: Round, event: Moved) -> float:
    """Return the minutes that undoing these moves takes. [min]"""
    catalogue = played.walk.catalogue
    procedures = {name: one.minutes for name, one in catalogue.procedures.items()}
    back = {"make-safe": procedures.get(RE_ENERGISE, 0.0), "re-energise": procedures.get(MAKE_SAFE, 0.0)}
    total = 0.0
    for move, access, _ in event.moves:
        if access:
            total += catalogue.access[access].close if move == "open" else catalogue.access[access].open
        else:
            total += back[move]
    return total
