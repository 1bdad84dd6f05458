"""A round: one simulated car with a hidden cause, dealt by dice that fall the same for the same seed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from diagtree.car.car import Car, same_work
from diagtree.car.dice import chance
from diagtree.errors import WrongUse
from diagtree.knowledge.library import Library
from diagtree.knowledge.words import House, Tree
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
    return Round(
        walk,
        Dealt(
            tree.id, walk.vehicle, house.rate, house.referral, house.comeback, mode.id, seed, wrong, ambient,
            _story(walk, tree, seed, ambient), walk.library.digest,
        ),
    )


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


def _story(walk: Walk, tree: Tree, seed: str, ambient: float) -> str:
    """Return the owner's words. They hold nothing but the complaint: what helps is asked for."""
    vehicle = walk.catalogue.vehicle
    car = vehicle.name if vehicle else "the car"
    said = tree.hears[int(chance(seed, "story") * len(tree.hears))] if tree.hears else tree.title.lower()
    return f"{car}, {ambient:g} degC outside. The owner says: {said}."
