"""A choice to the event it leads to. Pure: the car's dice are its seed, time is what acts take."""

from __future__ import annotations

from collections.abc import Callable
from typing import assert_never

from diagtree.errors import AnswerError, WrongUse
from diagtree.knowledge.words import Power
from diagtree.quiz.choices import Choice, Kind
from diagtree.quiz.events import Advised, Corrected, Event, Hinted, Moved, Referred, Stopped, Tested
from diagtree.quiz.hint import best_act, same_hint
from diagtree.quiz.permitted import demand_known, objection
from diagtree.quiz.round import Round
from diagtree.quiz.showing import answer
from diagtree.quiz.state import State
from diagtree.reason import arrangement as arranging
from diagtree.reason.plan_costs import Steps
from diagtree.reason.plan_state import never


def respond(played: Round, state: State, choice: Choice, out_of_time: Callable[[], bool] = never) -> Event:
    """Return what comes of `choice` as the round stands; fold it in with `state.step`.

    out_of_time : asked while a hint is searched for; no other act searches.
    Raises AnswerError for an act that cannot be taken as given (an unknown name, no word on how sure), which changes
    nothing; WrongUse where the round has ended.
    """
    if state.ended is not None:
        raise WrongUse(f"this round has ended ({state.ended}); deal a new one")
    demand_known(played, choice)
    against = objection(played, state, choice)
    if against is not None:
        return against
    return _done(played, state, choice, out_of_time)


def _done(played: Round, state: State, choice: Choice, out_of_time: Callable[[], bool]) -> Event:
    match choice.kind:
        case Kind.TEST:
            return _test(played, state, choice.id or "")
        case Kind.OPEN | Kind.CLOSE | Kind.MAKE_SAFE | Kind.RE_ENERGISE:
            return _moved(played, state, choice)
        case Kind.CORRECT:
            return _corrected(played, state, choice.id or "", _sure(choice))
        case Kind.ADVISE:
            return _advised(played, state, choice.id or "", _sure(choice))
        case Kind.REFER:
            step = _steps(played, state).refer
            assert step is not None
            return Referred(step.minutes, step.cost)
        case Kind.HINT:
            return _hint(played, state, out_of_time)
        case Kind.STOP:
            return Stopped()
        case _:
            assert_never(choice.kind)


def _sure(choice: Choice) -> float:
    if choice.sure is None or not 0.0 <= choice.sure <= 100.0:
        raise AnswerError(
            f"say how sure you are of `{choice.id}` first, from 0 to 100 per cent: `{choice.words} 80`"
        )
    return choice.sure


def _test(played: Round, state: State, test_id: str) -> Tested:
    test = played.walk.test(test_id)
    found = answer(played, test, state.times.get(test_id, 0))
    return Tested(
        test_id, found.readings, found.outcome, found.chances, found.told, test.minutes,
        played.problem.money(test.labour),
    )


def _moved(played: Round, state: State, choice: Choice) -> Moved:
    catalogue, layout = played.walk.catalogue, played.problem.layout
    if choice.kind is Kind.MAKE_SAFE:
        # All of the procedure, the proof of absence included: the predicate knows no car that is half made safe.
        moves = layout.moves(state.arrangement, arranging.Need(Power.DEAD))
    elif choice.kind is Kind.RE_ENERGISE:
        moves = layout.moves(state.arrangement, arranging.LIVE)
    else:
        access = catalogue.access[choice.id or ""]
        minutes = access.open if choice.kind is Kind.OPEN else access.close
        moves = (arranging.Moved(arranging.Move(choice.kind.value), access.id, minutes),)
    minutes = arranging.minutes_of(moves)
    listed = tuple((moved.move.value, moved.access or "", moved.minutes) for moved in moves)
    return Moved(choice.kind.value, choice.id, listed, minutes, played.problem.money(minutes))


def _corrected(played: Round, state: State, cause: str, sure: float) -> Corrected:
    step = _steps(played, state).corrections[played.cause_numbers[cause]]
    after = played.car.correct(cause)
    fixed = after.cause is None
    charge = after.proof_charge(cause)
    samples = tuple((sample.minutes, sample.power, sample.inlet_temperature) for sample in charge.samples)
    return Corrected(
        cause, sure, fixed, samples, charge.cut_out,
        step.minutes + (step.solved_minutes if fixed else 0.0), step.cost + (step.solved_cost if fixed else 0.0),
    )


def _advised(played: Round, state: State, cause: str, sure: float) -> Advised:
    step = _steps(played, state).advices[played.cause_numbers[cause]]
    right = cause == played.dealt.cause
    return Advised(cause, sure, right, step.minutes, step.cost + (0.0 if right else step.wrong_cost))


def _hint(played: Round, state: State, out_of_time: Callable[[], bool]) -> Event:
    mode = played.mode
    if not mode.hints:
        raise AnswerError(f"there are no hints in this mode (`{mode.id}`)")
    again = state.word is not None
    best = same_hint(played, state) if again else best_act(played, state, out_of_time)
    minutes = 0.0 if again else mode.hint_minutes
    return Hinted(
        best.choice.kind.value, best.choice.id, best.words, minutes, played.problem.money(minutes),
        best.act.kind, best.act.id,
    )


def _steps(played: Round, state: State) -> Steps:
    return played.costs.steps(played.costs.number(state.arrangement))
