"""Whether an act may be done as the car stands: the safety predicate asked for every act that a trainee chooses.

Three answers: it may be done; it is impossible (refused, nothing paid); it is unsafe (no reading; its consequence is
told). The predicate is `reason/arrangement`'s, the same that stands before every act that a walk shows.
"""

from __future__ import annotations

from diagtree.errors import AnswerError
from diagtree.knowledge.words import MAKE_SAFE, Correction, Power, Test
from diagtree.physics.nearest import did_you_mean
from diagtree.quiz.choices import NAMED, Choice, Kind
from diagtree.quiz.consequence import NOT_DONE, danger_ignored, opened_live, powered_open, worked_live
from diagtree.quiz.events import Refused, WentWrong
from diagtree.quiz.round import Round
from diagtree.quiz.state import State
from diagtree.reason.arrangement import LIVE, Move, Moved, Need, may_be_shown, relies_on_dead

WORDS_ONLY = frozenset({Kind.REFER, Kind.HINT, Kind.STOP})
"""Acts that touch no car: possible at any time."""


def demand_known(played: Round, choice: Choice) -> None:
    """Raise AnswerError where the act names nothing, or something that is not there, naming the nearest."""
    if choice.kind not in NAMED:
        return
    catalogue = played.walk.catalogue
    known, what = {
        Kind.TEST: (list(catalogue.tests), "test"),
        Kind.OPEN: (list(catalogue.access), "access"),
        Kind.CLOSE: (list(catalogue.access), "access"),
        Kind.CORRECT: ([c for c in played.problem.causes if c in catalogue.causes], "cause of this complaint"),
        Kind.ADVISE: ([c for c in played.problem.causes if c in catalogue.causes], "cause of this complaint"),
    }[choice.kind]
    if choice.id not in known:
        named = choice.id or ""
        raise AnswerError(f"there is no {what} `{named[:60]}`{did_you_mean(named, known)}")


def objection(played: Round, state: State, choice: Choice) -> Refused | WentWrong | None:
    """Return why the act is not done as the car stands; None where it may be done."""
    if state.danger is not None and not _words_only(played, choice):
        return _wrong(choice, danger_ignored(played, state.danger))
    match choice.kind:
        case Kind.TEST:
            test = played.walk.test(choice.id or "")
            return _job(played, state, choice, played.problem.layout.need_of(test), test)
        case Kind.CORRECT:
            return _correct(played, state, choice)
        case Kind.ADVISE:
            return _advise(played, choice)
        case Kind.OPEN:
            return _open(played, state, choice)
        case Kind.CLOSE:
            return _close(played, state, choice)
        case Kind.MAKE_SAFE:
            return _make_safe(played, state, choice)
        case Kind.RE_ENERGISE:
            return _re_energise(played, state, choice)
        case Kind.REFER:
            lacks = played.problem.house.referral is None
            return _refused(choice, "this house gives no cars to others") if lacks else None
        case _:
            return None


def _words_only(played: Round, choice: Choice) -> bool:
    if choice.kind is Kind.TEST:
        return not played.problem.layout.need_of(played.walk.test(choice.id or "")).hands_on
    return choice.kind in WORDS_ONLY


def _job(
    played: Round, state: State, choice: Choice, need: Need, work: Test | Correction
) -> Refused | WentWrong | None:
    layout, now = played.problem.layout, state.arrangement
    if relies_on_dead(layout, now, need) and not now.dead:
        return _wrong(choice, worked_live(played, now, need, work))
    moves = layout.moves(now, need)
    if moves:
        return _refused(choice, *(_move_words(moved) for moved in moves))
    # In a round nobody else touches the car: a proof of absence stands as long as the car is dead.
    assert may_be_shown(layout, now, need, absence_proven=now.dead)
    return None


def _correct(played: Round, state: State, choice: Choice) -> Refused | WentWrong | None:
    cause = played.walk.catalogue.causes[choice.id or ""]
    if cause.correction is None or cause.proof is None:
        return _refused(choice, f"this house does not repair it: `advise {choice.id}`, or refer the car")
    if choice.id in state.struck:
        return _refused(choice, "that work was done already, and the proof charge failed")
    return _job(played, state, choice, played.problem.layout.need(cause.correction.needs), cause.correction)


def _advise(played: Round, choice: Choice) -> Refused | None:
    if played.walk.catalogue.causes[choice.id or ""].advise is None:
        return _refused(choice, f"this house repairs it: `correct {choice.id}`")
    return None


def _open(played: Round, state: State, choice: Choice) -> Refused | WentWrong | None:
    layout, now, wanted = played.problem.layout, state.arrangement, choice.id or ""
    if wanted in now.open:
        return _refused(choice, "it is open already")
    if relies_on_dead(layout, now, Need(Power.ANY, layout.closure([wanted]))) and not now.dead:
        return _wrong(choice, opened_live(played, wanted))
    below = layout.closure([wanted]) - now.open - {wanted}
    first = layout.put_back(below)[::-1]
    return _refused(choice, *(f"open {access} first" for access in first)) if first else None


def _close(played: Round, state: State, choice: Choice) -> Refused | None:
    layout, now, shut = played.problem.layout, state.arrangement, choice.id or ""
    if shut not in now.open:
        return _refused(choice, "it is closed")
    above = [access for access in layout.put_back(now.open) if access != shut and shut in layout.closure([access])]
    return _refused(choice, *(f"close {access} first" for access in above)) if above else None


def _make_safe(played: Round, state: State, choice: Choice) -> Refused | None:
    if MAKE_SAFE not in played.walk.catalogue.procedures:
        return _refused(choice, "this knowledge has no `make-safe` procedure")
    return _refused(choice, "the car is made safe and proven dead already") if state.arrangement.dead else None


def _re_energise(played: Round, state: State, choice: Choice) -> Refused | WentWrong | None:
    now = state.arrangement
    if not now.dead:
        return _refused(choice, "the car is live already")
    exposed = [moved.access for moved in played.problem.layout.moves(now, LIVE) if moved.move is Move.CLOSE]
    return _wrong(choice, powered_open(played, [access for access in exposed if access])) if exposed else None


def _move_words(moved: Moved) -> str:
    return moved.move.value if moved.access is None else f"{moved.move.value} {moved.access}"


def _refused(choice: Choice, *missing: str) -> Refused:
    return Refused(choice.kind.value, choice.id, missing)


def _wrong(choice: Choice, said: tuple[str, tuple[str, ...], tuple[str, ...]]) -> WentWrong:
    harm, told, missed = said
    return WentWrong(choice.kind.value, choice.id, harm, (*told, NOT_DONE), missed)
