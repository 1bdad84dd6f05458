"""What rules look at: the knowledge of one folder, each tree on each car."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

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


@dataclass(frozen=True)
class TreeOnCar:
    """One tree as it is walked on one car."""

    tree: Tree
    car: Car

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
        """Return each tree on each car, where every test of its steps is known: a broken link is told by the reader."""
        for tree in self.trees.values():
            for car in self.cars:
                if all(step.test in car.catalogue.tests for step in tree.steps.values()):
                    yield TreeOnCar(tree, car)

    def _car(self, vehicle: str | None) -> Car:
        facts = None if vehicle is None else self.library.vehicle(vehicle)
        return Car(vehicle, facts, self.library.catalogue(vehicle), self.library.catalogue_findings(vehicle))
