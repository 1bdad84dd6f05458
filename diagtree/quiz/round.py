"""A round: one simulated car with a hidden cause, dealt by dice that fall the same for the same seed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from diagtree.car.car import Car, same_work
from diagtree.car.dice import chance
from diagtree.errors import WrongUse
from diagtree.knowledge.house import House
from diagtree.knowledge.library import Library
from diagtree.knowledge.words import Test, Tree, Where
from diagtree.physics.nearest import did_you_mean
from diagtree.physics.setup import Conditions
from diagtree.quiz.events import Dealt
from diagtree.quiz.modes import PRACTICE, Mode, mode_of
from diagtree.reason.plan import Solver, State
from diagtree.reason.plan_costs import Costs
from diagtree.reason.problem import Problem, compile_problem
from diagtree.walk.context import Walk

COLDEST, WARMEST = 0, 30
"""Between these the surroundings of a dealt car lie. [degC]"""
UNASKED = 2
"""Of so many of the tree's first questions at the desk the owner answers one unasked."""
SOON = 2.0
"""What takes longer to answer than that, the owner has to find out first. [min]"""


@dataclass(frozen=True)
class Round:
    """What a round stands on and never changes: the knowledge, the car, the mode. Nothing here is the trainee's.

    walk : knowledge, car type and house. dealt : how the round began.
    """

    walk: Walk
    dealt: Dealt

    @cached_property
    def mode(self) -> Mode:
        """How it is played."""
        return mode_of(self.dealt.mode)

    @cached_property
    def car(self) -> Car:
        """The car with its hidden cause."""
        walk = self.walk
        conditions = Conditions(self.dealt.ambient)
        return Car(walk.catalogue, walk.facts, walk.meters, self.dealt.cause, self.dealt.seed, conditions)

    @cached_property
    def tree(self) -> Tree:
        """The complaint's tree."""
        return self.walk.library.tree(self.dealt.tree)

    @cached_property
    def problem(self) -> Problem:
        """The complaint on this car as numbers."""
        return compile_problem(self.tree, self.walk.catalogue, self.walk.house)

    @cached_property
    def costs(self) -> Costs:
        """What acts cost from every arrangement."""
        return Costs(self.problem)

    @cached_property
    def solver(self) -> Solver:
        """Knows best strategies; what it has found out serves all later questions of the round."""
        return Solver(self.problem)

    @cached_property
    def policy_minutes(self) -> dict[tuple[State, float], float]:
        """Bay minutes of the best policy, by state and its cost as known: one decision ends where the next begins."""
        return {}

    @cached_property
    def test_numbers(self) -> dict[str, int]:
        """The planned tests by id. A test that is not among them tells nothing about this complaint's causes."""
        return {test.id: number for number, test in enumerate(self.problem.tests)}

    @cached_property
    def cause_numbers(self) -> dict[str, int]:
        """The causes by id."""
        return {cause: number for number, cause in enumerate(self.problem.causes)}

    def mended_by(self, cause: str) -> tuple[str, ...]:
        """Return the causes of this complaint that the correction of `cause` removes, itself first."""
        return tuple(one for one in same_work(self.walk.catalogue, cause) if one in self.cause_numbers)


def deal(walk: Walk, seed: str, mode: Mode = PRACTICE, *, cause: str | None = None) -> Round:
    """Return a round on a car of `walk`: its cause drawn by share, or `cause`.

    seed : the same seed is the same car, weather and story on any machine.
    Raises WrongUse where `cause` is not among the tree's.
    """
    tree = walk.library.tree(walk.tree)
    if cause is not None and cause not in tree.causes:
        raise WrongUse(f"tree `{tree.id}` has no cause `{cause}`{did_you_mean(cause, tree.causes)}")
    wrong = _drawn(tree, chance(seed, "cause")) if cause is None else cause
    ambient = float(COLDEST + int(chance(seed, "ambient") * (WARMEST - COLDEST + 1)))
    house = walk.house
    bare = Dealt(
        tree.id, walk.vehicle, house.rate, house.referral, house.comeback, mode.id, seed, wrong, ambient, "",
        walk.library.digest,
    )  # fmt: skip
    played = Round(walk, bare)
    told = _told(played)
    return replace(played, dealt=replace(bare, story=_story(played, told), told=told))


def resume(library: Library, dealt: Dealt) -> Round:
    """Return the round that began with `dealt`, on the same knowledge.

    Raises WrongUse where the knowledge has changed since: another car would come of it.
    """
    if library.digest != dealt.digest:
        raise WrongUse(
            f"the knowledge has changed since this round of `{dealt.tree}` was dealt; stop it and deal a new one"
        )
    house = House(dealt.rate, dealt.referral, dealt.comeback)
    return Round(Walk(library, dealt.tree, dealt.vehicle, house), dealt)


def _drawn(tree: Tree, die: float) -> str:
    left = die * sum(tree.causes.values())
    for cause, share in tree.causes.items():
        if share > 0 and left < share:
            return cause
        left -= share
    return next(cause for cause in reversed(list(tree.causes)) if tree.causes[cause] > 0)


def _told(played: Round) -> tuple[tuple[str, str], ...]:
    """Return what the owner says unasked: this car's own answer to one of the tree's first questions.

    Which question it is hangs on the seed and the tree alone, so that its choice tells nothing of the cause.
    """
    asked = _questions(played)[:UNASKED]
    if not asked:
        return ()
    test = asked[int(chance(played.dealt.seed, "story") * len(asked))]
    outcome = played.car.answer(test.id).outcome
    assert outcome is not None  # no question at the desk of these has a number
    return ((test.id, outcome),)


def _questions(played: Round) -> list[Test]:
    """Return the tree's questions at the desk in its order: words only, no look at dangers."""
    steps = dict.fromkeys(step.test for step in played.tree.steps.values())
    tests = [played.walk.test(test) for test in steps]
    asked = [test for test in tests if test.place is Where.RECEPTION and test.minutes <= SOON and not test.needs.open]
    return [test for test in asked if not (test.reads or test.stop)]


def _story(played: Round, told: tuple[tuple[str, str], ...]) -> str:
    """Return the owner's words: the complaint, and what is told unasked, so that the car cannot belie them."""
    said = f"{played.dealt.ambient:g} degC outside. The owner's complaint: {played.tree.title}."
    for test, outcome in told:
        said += f' Asked "{played.walk.test(test).ask}", the owner says: {outcome.replace("-", " ")}.'
    return said
