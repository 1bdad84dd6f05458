"""What a walk stands on and never changes: the knowledge, the car, the house."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from diagtree.errors import KnowledgeError
from diagtree.knowledge.house import House
from diagtree.knowledge.library import Library
from diagtree.knowledge.place import Finding, Level
from diagtree.knowledge.words import MAKE_SAFE, Catalogue, Needs, Power, Test, Tree
from diagtree.physics.meter import Accuracy
from diagtree.physics.quantity import Facts
from diagtree.reason.arrangement import Layout
from diagtree.reason.graph import StepsLeft, steps_left


@dataclass(frozen=True)
class Walk:
    """One case's knowledge on one car. Raises KnowledgeError where the knowledge has mistakes that it rests on.

    tree : where the walk begins; a hand-over goes on in another tree of the same library.
    """

    library: Library
    tree: str
    vehicle: str | None
    house: House

    @classmethod
    def begin(cls, library: Library, tree: str, vehicle: str | None = None, house: House | None = None) -> Walk:
        """Return the walk of `tree` on `vehicle` (the workshop's default where None) at the house's costs."""
        workshop = library.workshop
        car = vehicle if vehicle is not None else (workshop.vehicle if workshop else None)
        _, catalogue = library.require(tree, car)
        unproven = cannot_be_proven(catalogue)
        if unproven:
            raise KnowledgeError(f"the knowledge for `{tree}` cannot make the car safe", unproven)
        return cls(library, tree, car, house or library.house)

    def with_costs(self, rate: float, referral: float | None, comeback: float | None) -> Walk:
        """Return the same walk at other costs: those that its case began with."""
        return replace(self, house=House(rate, referral, comeback))

    @cached_property
    def catalogue(self) -> Catalogue:
        """The catalogue as it is on this car."""
        return self.library.catalogue(self.vehicle)

    @cached_property
    def layout(self) -> Layout:
        """Accesses and procedures on this car."""
        return Layout.of(self.catalogue)

    @cached_property
    def facts(self) -> Facts:
        """The profile's facts; none where no car is named."""
        return self.catalogue.vehicle.facts if self.catalogue.vehicle else {}

    @cached_property
    def meters(self) -> Mapping[str, Mapping[str, Accuracy]]:
        """Tool to unit to accuracy."""
        workshop = self.library.workshop
        return {
            tool: {unit: Accuracy(found.percent, found.counts) for unit, found in units.items()}
            for tool, units in (workshop.meters if workshop else {}).items()
        }

    @property
    def absence_holds(self) -> float | None:
        """Minutes for which a proof of the absence of voltage is good; None: as long as nothing happened. [min]"""
        return self.library.workshop.absence_holds if self.library.workshop else None

    def tree_of(self, tree: str) -> Tree:
        """Return a tree of the same library. Raises KnowledgeError where it cannot be used."""
        if tree not in self._trees:
            self._trees[tree] = self.library.require(tree, self.vehicle)[0]
        return self._trees[tree]

    def steps_left(self, tree: str, step: str) -> StepsLeft:
        """Return how many steps remain from a step of a tree on, at least and at most."""
        if (tree, step) not in self._left:
            self._left[tree, step] = steps_left(self.tree_of(tree), self.catalogue, step)
        return self._left[tree, step]

    @cached_property
    def kept(self) -> dict[str, tuple[object, object]]:
        """Results worth keeping till the next answer: name to what it was computed from (by identity), and result."""
        return {}

    @cached_property
    def _trees(self) -> dict[str, Tree]:
        return {}

    @cached_property
    def _left(self) -> dict[tuple[str, str], StepsLeft]:
        return {}

    def test(self, test: str) -> Test:
        """Return a test of the catalogue."""
        return self.catalogue.tests[test]


def cannot_be_proven(catalogue: Catalogue) -> tuple[Finding, ...]:
    """Return a finding where something needs a dead car, but no making safe ends in a measured absence of voltage.

    Sums may be done on such knowledge; nobody is walked to a car by it.
    """
    make_safe = catalogue.procedures.get(MAKE_SAFE)
    if make_safe is not None and any(step.kind == "absence" and step.between for step in make_safe.steps):
        return ()
    what = "there is no `make-safe` procedure" if make_safe is None else "`make-safe` has no `absence` step"
    message = f"{{}} needs a dead car, but {what}: write all its steps, with `between` which points to measure"
    jobs = [(f"test `{test.id}`", test.needs, test.at) for test in catalogue.tests.values()]
    jobs += [
        (f"the correction of `{cause.id}`", cause.correction.needs, cause.correction.at)
        for cause in catalogue.causes.values()
        if cause.correction is not None
    ]
    jobs += [(f"access `{item.id}`", _DEAD, item.at) for item in catalogue.access.values() if item.dead_only]
    return tuple(
        Finding("absence-not-proven", Level.ERROR, at, message.format(name))
        for name, needs, at in jobs
        if needs.power is Power.DEAD
    )


_DEAD = Needs(Power.DEAD)
