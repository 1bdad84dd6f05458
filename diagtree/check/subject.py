"""What rules look at: the knowledge of one folder, each tree on each car."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from diagtree.check.concluded import torn
from diagtree.check.flow import Flow
from diagtree.check.readings import Bench
from diagtree.check.witness import MOST_ANSWERS, Witnesses
from diagtree.knowledge.house import House
from diagtree.knowledge.library import CATALOGUE, Library
from diagtree.knowledge.place import Finding, Level, Place
from diagtree.knowledge.words import Catalogue, Cause, Test, Tree, Vehicle


class Once:
    """What is the same on several cars and is computed once for all of them."""

    def __init__(self) -> None:
        self._benches: dict[tuple[int, str | None], Bench] = {}
        self._causes: dict[int, Mapping[str, frozenset[str]]] = {}
        self._flows: dict[str, list[tuple[object, object, Flow]]] = {}

    def bench(self, test: Test, car: str | None, vehicle: Vehicle | None) -> Bench:
        """Return what the readings of a test mean: on all cars the same where its arithmetic has no fact of a car."""
        key = (id(test), car if _asks_for_facts(test) else None)  # the catalogues keep the tests, so no id comes again
        if key not in self._benches:
            self._benches[key] = Bench(test, vehicle.facts if vehicle else {})
        return self._benches[key]

    def flow(self, tree: Tree, catalogue: Catalogue) -> Flow:
        """Return the flow of causes: the same on all cars that do not differ in outcomes and in what causes allow."""
        tests = {step.test: catalogue.tests[step.test] for step in tree.steps.values()}
        graph = [(name, one.outcome_ids(), one.healthy, one.stop, one.mistake) for name, one in tests.items()]
        allowed = {cause: self._allowed(catalogue.causes[cause]) for cause in tree.causes if cause in catalogue.causes}
        known = self._flows.setdefault(tree.id, [])
        like = None
        for other_graph, other_allowed, flow in known:
            if other_graph == graph:
                if other_allowed == allowed:
                    return flow.on(catalogue)
                like = flow
        known.append((graph, allowed, Flow(tree, catalogue, like)))
        return known[-1][2]

    def _allowed(self, cause: Cause) -> Mapping[str, frozenset[str]]:
        """Return test to the outcomes that a cause allows; the same object for the same cause."""
        if id(cause) not in self._causes:  # the catalogues keep the causes, so no id comes again
            self._causes[id(cause)] = {
                test: frozenset(outcome for outcome, chance in shown.items() if chance > 0)
                for test, shown in cause.shows.items()
            }
        return self._causes[id(cause)]


def _asks_for_facts(test: Test) -> bool:
    written = (test.expected, test.judge, *(outcome.below for outcome in test.outcomes))
    return any(name.startswith("vehicle.") for one in written if one is not None for name in one.names)


def _usable(test: Test | None) -> bool:
    """Return whether it is known where a test's healthy outcome leads, and so what causes show that do not name it."""
    return test is not None and test.healthy in test.outcome_ids()


@dataclass(frozen=True)
class Car:
    """The catalogue as it is on one car; `vehicle` is None for the catalogue as written."""

    id: str | None
    vehicle: Vehicle | None
    catalogue: Catalogue
    findings: tuple[Finding, ...]
    once: Once = field(default_factory=Once, compare=False, repr=False)

    @property
    def readable(self) -> bool:
        """Whether the catalogue has no error: rules that compute may trust it."""
        return not any(finding.level is Level.ERROR for finding in self.findings)

    def bench(self, test_id: str) -> Bench:
        """Return what the readings of a test mean on this car."""
        return self.once.bench(self.catalogue.tests[test_id], self.id, self.vehicle)


@dataclass(frozen=True)
class TreeOnCar:
    """One tree as it is walked on one car. `walkable`: an answers file can say that it is this car."""

    tree: Tree
    car: Car
    walkable: bool = True

    @cached_property
    def flow(self) -> Flow:
        """Which causes can come to which step."""
        return self.car.once.flow(self.tree, self.catalogue)

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
        self._once = Once()

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
        """Return each tree on each car, where every test of its steps can be used: else the reader has complained.

        Vehicles come first: a mistake is told for the first car that shows it, and an answers file can name a vehicle.
        """
        return iter(self._trees_on_cars)

    def graphs(self) -> Iterator[TreeOnCar]:
        """Return each tree on each car where its branches are others than on the cars before: for rules about these."""
        seen: set[int] = set()
        for one in self._trees_on_cars:
            if id(one.flow.branches) not in seen:
                seen.add(id(one.flow.branches))
                yield one

    @cached_property
    def torn(self) -> Mapping[str, Place]:
        """The trees whose branches could not be read whole, each with the place."""
        found = {tree.id: torn(tree) for tree in self.trees.values()}
        return {tree: at for tree, at in found.items() if at is not None}

    @cached_property
    def unread(self) -> frozenset[str]:
        """The files, by relative name, that could not be read whole: what they say or use is not all here."""
        return self.library.unread | {f"{tree}.yaml" for tree in self.torn}

    @cached_property
    def _trees_on_cars(self) -> tuple[TreeOnCar, ...]:
        named = self.library.workshop is not None and self.library.workshop.vehicle is not None
        return tuple(
            TreeOnCar(tree, car, walkable=car.id is not None or not named)
            for tree in self.trees.values()
            for car in (*self.cars[1:], self.cars[0])
            if self._whole and tree.id not in self.torn
            and all(_usable(car.catalogue.tests.get(step.test)) for step in tree.steps.values())
        )

    @property
    def _whole(self) -> bool:
        """Whether every file of the catalogue could be read: else causes would seem to show what they do not."""
        return not any(name.startswith(CATALOGUE) for name in self.library.unread)

    def _car(self, vehicle: str | None) -> Car:
        facts = None if vehicle is None else self.library.vehicle(vehicle)
        catalogue, findings = self.library.catalogue(vehicle), self.library.catalogue_findings(vehicle)
        return Car(vehicle, facts, catalogue, findings, self._once)
