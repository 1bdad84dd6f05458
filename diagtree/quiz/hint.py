"""The best act as a round stands, with its reason: for hints, and for what would have been better."""

from __future__ import annotations

from collections.abc import Callable

from diagtree.knowledge.words import Where
from diagtree.quiz.choices import Choice, Kind
from diagtree.quiz.round import Round
from diagtree.quiz.state import State
from diagtree.quiz.way import towards
from diagtree.reason.arrangement import START, relies_on_dead
from diagtree.reason.evidence import Belief
from diagtree.reason.next_act import Advised, After, Present, next_acts
from diagtree.reason.next_words import act_words
from diagtree.reason.plan import Act
from diagtree.reason.plan_state import never
from diagtree.records import dataclass

OUTCOMES = 3
"""So many outcomes of a test are told in a hint, the likeliest."""
_RANK = "cheapest on the whole"


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

    With a danger found, or evidence that no cause can have given, that is to refer the car, or to stop where this house
    gives no cars to others.
    """
    if state.danger is not None:
        return _given_away(played, state, "a danger was found, and nobody works on it any more")
    if not state.case.total:
        return _given_away(played, state, "no cause of this complaint can have given these answers")
    chances = dict(zip(played.problem.causes, state.chances, strict=True))
    listed = next_acts(Present(played.problem, state.case, Belief(chances)), played.solver, out_of_time=out_of_time)
    first = listed[0]
    act = Act(first.kind, first.id)
    choice = towards(played, state, act)
    reasons = [*_reasons(played, first), *_danger_first(played, state, act)]
    return Best(choice, act, f"{_begun(choice, act)}: {'; '.join(reasons)}.")


def _given_away(played: Round, state: State, why: str) -> Best:
    refer = Act("refer")
    choice = towards(played, state, refer)
    return Best(choice, refer, f"{_begun(choice, refer)}: {why}.")


def same_hint(played: Round, state: State) -> Best:
    """Return what was told last and stands, from where the car is now: a second question gets the same answer."""
    assert state.word is not None
    act = state.word.act
    choice = towards(played, state, act)
    return Best(choice, act, f"{_begun(choice, act)}: as said before.")


def _reasons(played: Round, best: Advised) -> list[str]:
    """Return why, a reason each; not by how much it is cheaper: that hangs on the short search behind the others."""
    if not best.after:
        return [reason.rstrip(".") for reason in best.why.split("; ") if not reason.startswith(_RANK)]
    likeliest = sorted(best.after, key=lambda one: -one.chance)[:OUTCOMES]
    way = "" if best.minutes <= played.walk.test(best.id or "").labour else ", with all that must be done for it"
    return [f"takes {best.minutes:g} min{way}", *(_if_so(one) for one in likeliest)]


def _danger_first(played: Round, state: State, act: Act) -> list[str]:
    """Return a word on dangers that nobody has looked for: expected cost leaves them out, people must not.

    Before words at the desk it is not said, nor before what is itself such a look.
    """
    walk = played.walk
    test = walk.test(act.id or "") if act.kind == "test" else None
    if act.kind not in ("test", "correct") or (test and (test.stop or test.place is Where.RECEPTION)):
        return []
    layout = played.problem.layout
    looks = [one for one in played.test_numbers if walk.test(one).stop and one not in state.outcomes]
    # Not those for which the car must be made safe: that is no small thing to do beforehand.
    looks = [one for one in looks if not relies_on_dead(layout, START, layout.need_of(walk.test(one)))]
    return [f"danger is not in that sum: look for it first, before any charge ({', '.join(looks)})"] if looks else []


def _if_so(after: After) -> str:
    cause, chance = max(after.posterior.items(), key=lambda one: one[1])
    return f"if {after.outcome} ({100 * after.chance:.0f} %): then most likely {cause} ({100 * chance:.0f} %)"


def _begun(choice: Choice, act: Act) -> str:
    if choice.id == act.id and choice.kind.value == act.kind:
        return act_words(act)
    if choice.kind is Kind.STOP:
        return "stop here, this house gives no cars to others"
    return f"{choice.words}, on the way to `{act_words(act)}`"
