"""What rules look at: the knowledge of one folder, each tree on each car."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from diagtree.check.flow import Flow
from diagtree.check.readings import Bench
from diagtree.check.witness import MOST_ANSWERS, Witnesses
from diagtree.knowledge.library import Library
from diagtree.knowledge.place import Finding, Level
from diagtree.knowledge.words import Catalogue, House, Tree, Vehicle


@dataclass(frozen=True)
class Car:
    """The catalogue as it is on one car; `vehicle` is None for the catalogue as written."""

    id: str | None
    vehicle: Vehicle | None
    catalogue: Catalogue
    findings: tuple[Finding, ...]

    @property
    def readable(self) -> bool:
        """Whether the catalogue has no error: rules that compute may trust it."""
        return not any(finding.level is Level.ERROR for finding in self.findings)

    @cached_property
    def _benches(self) -> dict[str, Bench]:
        return {}

    def bench(self, test_id: str) -> Bench:
        """Return what the readings of a test mean on this car."""
        if test_id not in self._benches:
            facts = self.vehicle.facts if self.vehicle else {}
            self._benches[test_id] = Bench(self.catalogue.tests[test_id], facts)
        return self._benches[test_id]


@dataclass(frozen=True)
class TreeOnCar:
    """One tree as it is walked on one car. `walkable`: an answers file can say that it is this car."""

    tree: Tree
    car: Car
    walkable: bool = True

    @cached_property
    def flow(self) -> Flow:
        """Which causes can come to which step."""
        return Flow(self.tree, self.catalogue)

    @cached_property
    def witnesses(self) -> Witnesses:
        """Answers that walk into what a rule found."""
        return Witnesses(self.flow, self.car.bench, self.car.id, MOST_ANSWERS if self.walkable else 0)

    @property
    def catalogue(self) -> Catalogue:
        """The catalogue as it is on the car."""
        return self.car.catalogue


class Subject:
    """The knowledge of one folder, as rules see it."""

    def __init__(self, library: Library) -> None:
        """`library` may have mistakes: the reader's own findings are told apart from the rules'."""
        self.library = library

    @property
    def trees(self) -> Mapping[str, Tree]:
        """Every tree that could be read."""
        return self.library.trees

    @property
    def house(self) -> House:
        """The workshop's costs."""
        return self.library.house

    @cached_property
    def cars(self) -> tuple[Car, ...]:
        """The catalogue as written, then as it is on each vehicle."""
        return tuple(self._car(vehicle) for vehicle in (None, *self.library.profiles))

    def trees_on_cars(self) -> Iterator[TreeOnCar]:
        """Return each tree on each car, where every test of its steps is known: a broken link is told by the reader.

        Vehicles come first: a mistake is told for the first car that shows it, and an answers file can name a vehicle.
        """
        return iter(self._trees_on_cars)

    @cached_property
    def _trees_on_cars(self) -> tuple[TreeOnCar, ...]:
        named = self.library.workshop is not None and self.library.workshop.vehicle is not None
        return tuple(
            TreeOnCar(tree, car, walkable=car.id is not None or not named)
            for tree in self.trees.values()
            for car in (*self.cars[1:], self.cars[0])
            if all(step.test in car.catalogue.tests for step in tree.steps.values())
        )

    def _car(self, vehicle: str | None) -> Car:
        facts = None if vehicle is None else self.library.vehicle(vehicle)
        return Car(vehicle, facts, self.library.catalogue(vehicle), self.library.catalogue_findings(vehicle))
