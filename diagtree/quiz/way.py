"""The way to an act: which move it still needs, and whether something that was done lies on that way."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.knowledge.words import MAKE_SAFE
from diagtree.quiz.choices import Choice, Kind
from diagtree.quiz.events import Advised, Corrected, Event, Moved, Referred, Tested
from diagtree.quiz.round import Round
from diagtree.reason.arrangement import Arrangement, Move, Need
from diagtree.reason.plan import Act

if TYPE_CHECKING:
    from diagtree.quiz.state import State


def towards(played: Round, state: State, act: Act, sure: float | None = None) -> Choice:
    """Return what must be chosen now so that `act` gets done: the first move that it still needs, or itself.

    sure : what is said before a correction or an advice; by default what the evidence says. [percent]
    """
    need = need_of(played, act)
    moves = played.problem.layout.moves(state.arrangement, need) if need is not None else ()
    if moves:
        first = moves[0]
        if any(moved.move is Move.MAKE_SAFE for moved in moves) and first.access in opened_by_making_safe(played):
            return Choice(Kind.MAKE_SAFE)  # it opens what it needs by itself
        return Choice(Kind(first.move.value), first.access)
    if act.kind == "refer" and played.problem.house.referral is None:
        return Choice(Kind.STOP)  # this house gives no cars to others: the round ends here
    if act.kind not in ("correct", "advise"):
        return Choice(Kind(act.kind), act.id)
    if sure is None:
        sure = 100.0 * state.chances[played.cause_numbers[act.id or ""]]
    return Choice(Kind(act.kind), act.id, min(100.0, sure))


def on_the_way(played: Round, now: Arrangement, event: Event, act: Act) -> bool:
    """Return whether `event`, done with the car as it is `now`, is `act` or one of the moves that it still needs.

    In what order covers come off is the trainee's affair, as long as the act needs them all.
    """
    match event:
        case Moved():
            need = need_of(played, act)
            needed = () if need is None else played.problem.layout.moves(now, need)
            return {move[:2] for move in event.moves} <= {(one.move.value, one.access or "") for one in needed}
        case Tested(test=test):
            return act == Act("test", test)
        case Corrected(cause=cause):
            return act == Act("correct", cause)
        case Advised(cause=cause):
            return act == Act("advise", cause)
        case Referred():
            return act.kind == "refer"
        case _:
            return False


def need_of(played: Round, act: Act) -> Need | None:
    """Return what `act` asks of the arrangement; None for advice and referral, which bring about their own."""
    layout, catalogue = played.problem.layout, played.walk.catalogue
    if act.kind == "test":
        return layout.need_of(catalogue.tests[act.id or ""])
    if act.kind == "correct":
        correction = catalogue.causes[act.id or ""].correction
        assert correction is not None
        return layout.need(correction.needs)
    return None


def opened_by_making_safe(played: Round) -> frozenset[str]:
    """Return the accesses that the procedure of making safe opens by itself."""
    procedure = played.walk.catalogue.procedures.get(MAKE_SAFE)
    return played.problem.layout.closure(procedure.open) if procedure else frozenset()
