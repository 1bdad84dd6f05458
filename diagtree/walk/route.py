"""From the answers to the place in the tree: derived anew each time, so that undo needs no memory of its own."""

from __future__ import annotations

from dataclasses import field
from typing import TYPE_CHECKING, TypeAlias

from diagtree.knowledge.words import NOT_DONE, TRIAGE, Ending, Refer, Test
from diagtree.reason.evidence import Answered as Evidence
from diagtree.reason.evidence import Belief, bearing, counted, posterior
from diagtree.reason.graph import branches
from diagtree.records import dataclass
from diagtree.walk.context import Walk
from diagtree.walk.dangers import NOTHING, danger_ending
from diagtree.walk.events import Answered, Complained, Decided, Item, Looked, ProofJudged, TestChosen
from diagtree.walk.hearing import dangers_said, heard, words_before
from diagtree.walk.state import State

if TYPE_CHECKING:
    from diagtree.walk.danger_words import Told


@dataclass(frozen=True, slots=True)
class ToLook:
    """The first look is due."""


@dataclass(frozen=True, slots=True)
class ToLookAgain:
    """The first look found nothing, but the owner's words tell of these dangers: they are asked for by name."""

    told: tuple[Told, ...]


@dataclass(frozen=True, slots=True)
class ToComplain:
    """The owner's words are due."""


@dataclass(frozen=True, slots=True)
class ToSort:
    """At the desk: the owner's words are in; which complaint do they mean?"""


@dataclass(frozen=True, slots=True)
class ToTest:
    """A test is due: a step of the tree, or one that the technician chose (`step` None)."""

    test: str
    step: str | None


@dataclass(frozen=True, slots=True)
class ToReadDanger:
    """A stop outcome or a danger at the first look is to be acknowledged before anything else."""

    key: str


@dataclass(frozen=True, slots=True)
class ToDecide:
    """An ending was reached: what now?"""

    ending: Ending


@dataclass(frozen=True, slots=True)
class ToCorrect:
    """A cause is being corrected and its correction proven."""

    cause: str


@dataclass(frozen=True, slots=True)
class ToChoose:
    """A correction was in vain, or only in part: the person chooses among what remains."""


@dataclass(frozen=True, slots=True)
class ToEnd:
    """The case goes to its end: put back, hand back, close as `how`."""

    how: str


Goal: TypeAlias = (
    ToLook | ToLookAgain | ToComplain | ToSort | ToTest | ToReadDanger | ToDecide | ToCorrect | ToChoose | ToEnd
)


ROUTE, BELIEF = "route", "belief"  # what is kept with the walk


@dataclass(slots=True)
class Route:
    """Where the answers lead. `step` is the step the walk stands at (None beyond the last)."""

    tree: str
    step: str | None
    goal: Goal
    evidence: list[Evidence] = field(default_factory=list)
    answers: dict[str, Answered] = field(default_factory=dict)
    struck: list[str] = field(default_factory=list)
    chosen: str | None = None  # a test out of turn that is not answered yet
    said: tuple[str, ...] = ()  # the owner's words from before any question
    asked_again: set[str] = field(default_factory=set)  # dangers asked for by name, as the words tell of them
    complained: Complained | None = None
    cause: str | None = None  # the cause last corrected
    ending: Ending | None = None  # the ending last reached
    danger: bool = False  # that ending is a danger: the car is set apart, nothing on it is touched any more


def route(walk: Walk, state: State) -> Route:
    """Return where the answers of `state` lead. The last result is kept: a prompt asks for it several times over."""
    kept = walk.kept.get(ROUTE)
    if kept is not None and kept[0] is state.items:
        assert isinstance(kept[1], Route)
        return kept[1]
    found = Route(walk.tree, walk.tree_of(walk.tree).start, ToLook(), said=words_before(state))
    for item in state.items:
        _take(walk, found, item)
    if found.chosen is not None and not found.danger and not isinstance(found.goal, ToReadDanger):
        found.goal = ToTest(found.chosen, None)
    walk.kept[ROUTE] = (state.items, found)
    return found


def belief(walk: Walk, found: Route) -> Belief:
    """Return what the evidence says about the causes of the tree the walk is in."""
    kept = walk.kept.get(BELIEF)
    if kept is not None and kept[0] is found:
        assert isinstance(kept[1], Belief)
        return kept[1]
    tree = walk.tree_of(found.tree)
    believed = posterior(tree.causes, evidence_here(walk, found), walk.catalogue, struck=found.struck)
    walk.kept[BELIEF] = (found, believed)
    return believed


def evidence_here(walk: Walk, found: Route) -> tuple[Evidence, ...]:
    """Return the answers that are evidence in the tree the walk is in: not all of another tree's are."""
    return bearing(walk.tree_of(found.tree), found.evidence, walk.catalogue)


def _take(walk: Walk, found: Route, item: Item) -> None:
    match item:
        case Looked(found=danger):
            ending = danger_ending(danger, found.tree, walk.library.trees)
            if ending is None:
                _looked(walk, found, danger)
            else:
                found.step, found.ending, found.goal, found.danger = None, ending, ToReadDanger(danger), True
        case Complained():
            found.complained = item
            _ask_again_or(walk, found)
        case Answered():
            _answered(walk, found, item)
        case TestChosen(test=test):
            found.chosen = test
        case Decided():
            _decided(walk, found, item)
        case ProofJudged(cause=cause, result=result):
            if result == "fixed":
                found.goal = ToEnd("fixed")
            else:
                if result == "not-fixed":
                    found.struck.append(cause)
                found.goal = ToChoose()


def _looked(walk: Walk, found: Route, danger: str) -> None:
    """Go on after a look that stops nothing."""
    if isinstance(found.goal, ToLookAgain):
        found.asked_again.update(one.danger for one in found.goal.told)
    if danger != NOTHING:  # the tree is made for it
        found.asked_again.add(danger)
    _ask_again_or(walk, found)


def _ask_again_or(walk: Walk, found: Route) -> None:
    """Ask by name for the dangers that the owner's words tell of and nobody found, each once; else go on."""
    told = tuple(one for one in dangers_said(found.said, found.complained) if one.danger not in found.asked_again)
    if told:
        found.goal = ToLookAgain(told)
    else:
        _after_look(walk, found)


def _after_look(walk: Walk, found: Route) -> None:
    if found.complained is None:
        found.goal = ToComplain()
    elif found.tree == TRIAGE and heard(walk, found.complained.words):
        found.goal = ToSort()
    else:
        _advance(walk, found)


def _answered(walk: Walk, found: Route, item: Answered) -> None:
    found.answers[item.test] = item
    if item.outcome != NOT_DONE:
        found.evidence.append(Evidence(item.test, item.outcome, item.chances, item.was_mistake))
    if found.chosen == item.test:
        found.chosen = None
    test = walk.test(item.test)
    if item.outcome in test.stop and not (isinstance(found.goal, ToTest) and found.goal.test == item.test):
        # Told out of turn, a danger still ends the walk of the tree.
        found.step, found.ending, found.goal = None, Refer(DANGER_REFERRAL), ToReadDanger(item.test)
        found.danger = True
    elif isinstance(found.goal, ToTest):
        _advance(walk, found)


DANGER_REFERRAL = "a high-voltage technician who may judge the damage"


def _advance(walk: Walk, found: Route) -> None:
    """Follow the tree from the present step as far as the answers reach."""
    tree = walk.tree_of(found.tree)
    seen: set[str] = set()
    while found.step is not None:
        if found.step in seen:  # a loop in the tree whose answers are all given; stand still and ask
            found.goal = ToTest(tree.steps[found.step].test, found.step)
            return
        seen.add(found.step)
        step = tree.steps[found.step]
        test = walk.test(step.test)
        answer = found.answers.get(step.test)
        outcome = _counts(walk, found, test, answer)
        if answer is None or outcome is None:
            found.goal = ToTest(step.test, step.id)
            return
        target = branches(step, test).get(outcome)
        if target is None:
            found.goal = ToTest(step.test, step.id)
            return
        if isinstance(target, str):
            found.step = target
            continue
        found.step, found.ending = None, target
        found.danger = outcome in test.stop
        found.goal = ToReadDanger(step.test) if found.danger else ToDecide(target)


def _counts(walk: Walk, found: Route, test: Test, answer: Answered | None) -> str | None:
    """Return the outcome of `test` that counts, by the same rule as evidence; `not-done` where nothing else."""
    if answer is None:
        return None
    counting = counted([item for item in found.evidence if item.test == test.id], walk.catalogue)
    if counting:
        return counting[0].outcome
    return None if test.stop else NOT_DONE


def _decided(walk: Walk, found: Route, item: Decided) -> None:
    ending = found.ending
    match item.what:
        case "read-danger" if ending is not None:
            found.goal = ToDecide(ending)
        case "go-on":
            found.tree, found.step, found.ending = item.key, walk.tree_of(item.key).start, None
            found.danger = False
            _advance(walk, found)
        case "correct":
            found.cause, found.goal = item.key, ToCorrect(item.key)
        case "advise":
            found.cause, found.goal = item.key, ToEnd("advised")
        case "refer":
            found.goal = ToEnd("set-apart" if found.danger else "referred")
        case "isolated":
            found.goal = ToEnd("left-isolated")
        case "remaining":
            found.goal = ToChoose()
        case "tree" | "questions":
            _advance(walk, found)
        case _:
            pass
