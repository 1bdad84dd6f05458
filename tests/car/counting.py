"""Outcomes that simulated cars show, counted: each reading judged as a walk judges it."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator, Mapping
from functools import cache, lru_cache
from unittest.mock import patch

from diagtree.car.car import Car
from diagtree.knowledge.files import load
from diagtree.knowledge.library import Library
from diagtree.knowledge.words import Cause, Test
from diagtree.physics.observable import observable, observe
from diagtree.physics.part import Fault
from diagtree.physics.setup import Conditions
from diagtree.reason.problem import compile_problem
from diagtree.walk.context import Walk
from diagtree.walk.judging import read, verdict

TREE = "ac-fails-dc-works"
VEHICLES = ("petrel-2", "marlin-1")
TEMPERATURES = (2.0, 12.0, 20.0, 31.0)
"""The surroundings, evenly. [degC]"""
CARS = 1000 if os.environ.get("DIAGTREE_BENCH") == "full" else 200
"""Of each cause, read by physics. What is drawn is cheap: always 1,000."""
DRAWN = 1000

SUPPLIED: Mapping[str, Mapping[str, float]] = {"marlin-1": {"vehicle.charger.derates_above": 80.0}}
"""Maker's values that the profile leaves unknown and a technician looks up: what the walk asks for."""


@cache
def library() -> Library:
    return load()


@cache
def walk(vehicle: str) -> Walk:
    return Walk.begin(library(), TREE, vehicle)


@cache
def facts(vehicle: str) -> Mapping[str, object]:
    from diagtree.walk.judging import with_supplied

    return with_supplied(walk(vehicle).facts, SUPPLIED.get(vehicle, {}))


def simulated_tests(vehicle: str) -> Iterator[Test]:
    """Yield each numeric test whose readings physics can simulate."""
    for test in walk(vehicle).catalogue.tests.values():
        if test.reads and all(one.of for one in test.reads):
            yield test


def concerns(test: Test, cause: Cause) -> bool:
    """Return whether the cause says that it shows at the test, or its fault can change what is read there."""
    parts = {part for one in test.reads for part in observable(str(one.of)).changed_by}
    return test.id in cause.shows or bool(parts & set(cause.fault))


@cache
def planned(tree: str) -> frozenset[str]:
    """Return the tests that the plan of a complaint may use."""
    here = walk(VEHICLES[0])
    return frozenset(test.id for test in compile_problem(library().tree(tree), here.catalogue, here.house).tests)


@cache
def asked(cause: str) -> frozenset[str]:
    """Return the tests that some complaint may use where it lists the cause."""
    trees = [tree.id for tree in library().trees.values() if cause in tree.causes]
    return frozenset[str]().union(*(planned(tree) for tree in trees))


def simulated(vehicle: str, cause: str | None, test: Test) -> bool:
    """Return whether physics answers: where the profile lacks what it needs, the outcome is drawn."""
    here = walk(vehicle)
    return Car(here.catalogue, facts(vehicle), here.meters, cause, 0).answer(test.id).outcome is None


@lru_cache(maxsize=50_000)
def judged(vehicle: str, test_id: str, typed: tuple[tuple[str, str], ...]) -> str:
    """Return the outcome of readings as they are typed, by the test's own `judge` and limits."""
    here = walk(vehicle)
    test = here.catalogue.tests[test_id]
    return verdict(here, test, read(here, test, dict(typed)), SUPPLIED.get(vehicle, {})).judged.outcome


class Known:
    """What physics says, computed once where cars have the same faults in the same surroundings."""

    def __init__(self) -> None:
        self._values: dict[object, float] = {}

    def observe(self, name: str, car: Mapping[str, object], faults: Mapping[str, Fault], there: Conditions) -> float:
        key = name, tuple((part, one.mode.word, one.value) for part, one in faults.items()), there
        if key not in self._values:
            self._values[key] = observe(name, car, faults, there)
        return self._values[key]


@cache
def counted(vehicle: str, cause: str | None, test_id: str, cars: int = CARS) -> Counter[str]:
    """Return how many of so many cars show each outcome, at several temperatures in turn."""
    here, profile = walk(vehicle), facts(vehicle)
    found: Counter[str] = Counter()
    with patch("diagtree.car.car.observe", Known().observe):
        for number in range(cars):
            there = Conditions(TEMPERATURES[number % len(TEMPERATURES)])
            shown = Car(here.catalogue, profile, here.meters, cause, number, there).answer(test_id)
            found[judged(vehicle, test_id, tuple(shown.readings.items()))] += 1
    return found


@cache
def drawn(vehicle: str, cause: str | None, test_id: str, cars: int = DRAWN) -> Counter[str]:
    """Return how many of so many cars show each outcome of a test without a number."""
    here, profile = walk(vehicle), facts(vehicle)
    cars_of = (Car(here.catalogue, profile, here.meters, cause, number) for number in range(cars))
    return Counter(str(car.answer(test_id).outcome) for car in cars_of)
