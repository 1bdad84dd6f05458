"""The best act as a round stands, with its reason: for hints, and for what would have been better."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from diagtree.quiz.choices import Choice, Kind
from diagtree.quiz.round import Round
from diagtree.quiz.state import State
from diagtree.reason.arrangement import Move, Need
from diagtree.reason.evidence import Belief
from diagtree.reason.next_act import Present, next_acts
from diagtree.reason.next_words import act_words
from diagtree.reason.plan import Act
from diagtree.reason.plan_state import never


@dataclass(frozen=True, slots=True)
class Best:
    """The best act.

    choice : what is to be done right now, be it opening or making safe. act : what that is done for.
    words : the whole in a sentence or two.
    """

    choice: Choice
    act: Act
    words: str


def best_act(played: Round, state: State, out_of_time: Callable[[], bool] = never) -> Best:
    """Return the first act of the best strategy from here, as good as found in the time given, and why.

    With a danger found, or evidence that no cause can have given, that is to refer the car.
    """
    refer = Act("refer")
    if state.danger is not None:
        return Best(Choice(Kind.REFER), refer, "refer the car: a danger was found, and nobody works on it any more.")
    if not state.case.total:
        words = "refer the car: no cause of this complaint can have given these answers."
        return Best(Choice(Kind.REFER), refer, words)
    chances = dict(zip(played.problem.causes, state.chances, strict=True))
    listed = next_acts(Present(played.problem, state.case, Belief(chances)), played.solver, out_of_time=out_of_time)
    first = listed[0]
    act = Act(first.kind, first.id)
    choice = towards(played, state, act)
    begun = act_words(act) if choice.id == act.id and choice.kind.value == act.kind else (
        f"{choice.words}, on the way to `{act_words(act)}`"
    )
    return Best(choice, act, f"{begun}: {first.why}")


def towards(played: Round, state: State, act: Act, sure: float | None = None) -> Choice:
    """Return what must be chosen now so that `act` gets done: the first move that it still needs, or itself.

    sure : what is said before a correction or an advice; by default what the evidence says. [percent]
    """
    need = need_of(played, act)
    moves = played.problem.layout.moves(state.arrangement, need) if need is not None else ()
    if moves:
        first = moves[0]
        if any(moved.move is Move.MAKE_SAFE for moved in moves) and first.access in _opened_by_making_safe(played):
            return Choice(Kind.MAKE_SAFE)  # it opens what it needs by itself
        return Choice(Kind(first.move.value), first.access)
    if act.kind not in ("correct", "advise"):
        return Choice(Kind(act.kind), act.id)
    if sure is None:
        sure = 100.0 * state.chances[played.cause_numbers[act.id or ""]]
    return Choice(Kind(act.kind), act.id, min(100.0, sure))


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


def _opened_by_making_safe(played: Round) -> frozenset[str]:
    procedure = played.walk.catalogue.procedures.get("make-safe")
    return played.problem.layout.closure(procedure.open) if procedure else frozenset()
