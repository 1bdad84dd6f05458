"""Guided rounds: the tree's next step as the round stands, and why it comes now."""

from __future__ import annotations

from collections.abc import Callable

from diagtree.knowledge.words import Conclude, Refer, Target, Test
from diagtree.quiz.choices import Choice
from diagtree.quiz.events import Suggested
from diagtree.quiz.hint import best_act, same_hint
from diagtree.quiz.round import Round
from diagtree.quiz.state import State
from diagtree.quiz.way import towards
from diagtree.reason.evidence import telling
from diagtree.reason.graph import branches
from diagtree.reason.next_words import after_words
from diagtree.reason.plan import Act
from diagtree.reason.plan_state import never
from diagtree.records import dataclass

NO_TREE = "The tree has no more to say here; this is the best act by expected cost."


@dataclass(frozen=True, slots=True)
class Suggestion:
    """What the tree would do now.

    choice : the act that is due, be it opening or making safe. step : the tree's step, None at its end and beyond.
    act : what it is due for. why : the reasons, a line each.
    event : where the tree has no more to say, that this was told: the round must remember it, since another search
        would find another act; None where the tree itself says it, or it was told before and still stands.
    """

    choice: Choice
    step: str | None
    act: Act
    why: tuple[str, ...]
    event: Suggested | None = None


def due(played: Round, state: State) -> Act | None:
    """Return the act by which the tree goes on; None where it has no more to say."""
    return _act_of_tree(played, state, place(played, state))


def suggestion(played: Round, state: State, out_of_time: Callable[[], bool] = never) -> Suggestion:
    """Return the tree's next act.

    Where the tree hands over, or its conclusion was in vain, the best act by expected cost stands in (as in a tree's
    price); out_of_time is asked while that is searched for.
    """
    where = place(played, state)
    act = _act_of_tree(played, state, where)
    if act is not None and act.kind == "test" and isinstance(where, str):
        why = _why_test(played, state, played.walk.test(act.id or ""))
        return Suggestion(towards(played, state, act), where, act, why)
    if act is not None:
        return Suggestion(towards(played, state, act), None, act, _why_ending(played, state, act))
    if state.word is not None:
        best = same_hint(played, state)
        return Suggestion(best.choice, None, best.act, (NO_TREE, best.words))
    best = best_act(played, state, out_of_time)
    told = Suggested(best.act.kind, best.act.id)
    return Suggestion(best.choice, None, best.act, (NO_TREE, best.words), told)


def place(played: Round, state: State) -> Target | None:
    """Return the tree's step whose test is due, or the ending that the answers lead to. None: the tree knows no way."""
    tree, passed = played.tree, set()
    here: Target | None = tree.start
    while isinstance(here, str):
        if here not in tree.steps or here in passed:
            return None
        passed.add(here)
        found = tree.steps[here]
        outcome = state.outcomes.get(found.test)
        if outcome is None:
            return here
        here = branches(found, played.walk.test(found.test)).get(outcome)
    return here


def _act_of_tree(played: Round, state: State, where: Target | None) -> Act | None:
    if isinstance(where, str) and state.danger is None:
        return Act("test", played.tree.steps[where].test)
    return _ending(played, state, where)


def _ending(played: Round, state: State, where: Target | None) -> Act | None:
    if state.danger is not None:
        return Act("refer")
    if isinstance(where, Conclude) and where.cause not in state.struck:
        cause = played.walk.catalogue.causes[where.cause]
        return Act("advise" if cause.advise is not None else "correct", where.cause)
    if isinstance(where, Refer) and not state.struck and played.problem.house.referral is not None:
        return Act("refer")
    return None


def _why_test(played: Round, state: State, test: Test) -> tuple[str, ...]:
    chances = dict(zip(played.problem.causes, state.chances, strict=True))
    told = telling(chances, test, played.walk.catalogue)
    if not told.parts:
        return (f"{test.id} parts none of the causes that are left: the tree asks it for the record.",)
    lines = [
        after_words(outcome, chance, told.posterior[outcome], None)
        for outcome, chance in told.outcomes.items() if outcome in told.posterior
    ]
    return ("What it tells, with the chance of each outcome and the likeliest cause then:", *lines,
            f"Source: {test.source}")  # fmt: skip


def _why_ending(played: Round, state: State, act: Act) -> tuple[str, ...]:
    if state.danger is not None:
        return ("A danger was found: nobody works on this car any more.",)
    if act.kind == "refer":
        return ("The tree gives the car out of this house here.",)
    chance = state.chances[played.cause_numbers[act.id or ""]]
    name = played.walk.catalogue.causes[act.id or ""].name
    return (f"The tree concludes: {name}. By the evidence it stands at {100 * chance:.0f} %.",)
