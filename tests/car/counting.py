"""Outcomes that simulated cars show, counted: each reading judged as a walk judges it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from functools import cache

from diagtree.car.car import Car
from diagtree.knowledge.files import load
from diagtree.knowledge.words import Cause, Test
from diagtree.physics.observable import observable
from diagtree.physics.setup import Conditions
from diagtree.walk.context import Walk
from diagtree.walk.judging import read, verdict

TREE = "ac-fails-dc-works"
VEHICLES = ("petrel-2", "marlin-1")
TEMPERATURES = (2.0, 12.0, 20.0, 31.0)
"""The surroundings, evenly. [degC]"""
CARS = 200

SUPPLIED: Mapping[str, Mapping[str, float]] = {"marlin-1": {"vehicle.charger.derates_above": 80.0}}
"""Maker's values that the profile leaves unknown and a technician looks up: what the walk asks for."""


@cache
def walk(vehicle: str) -> Walk:
    return Walk.begin(load(), TREE, vehicle)


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


def outcome(vehicle: str, car: Car, test: Test, time: int = 0) -> str:
    """Return the outcome of one reading, by the test's own `judge` and limits."""
    here = walk(vehicle)
    readings = read(here, test, car.answer(test.id, time).readings)
    return verdict(here, test, readings, SUPPLIED.get(vehicle, {})).judged.outcome


@cache
def counted(vehicle: str, cause: str | None, test_id: str, cars: int = CARS) -> Counter[str]:
    """Return how many of so many cars show each outcome, at several temperatures in turn."""
    here = walk(vehicle)
    test = here.catalogue.tests[test_id]
    found: Counter[str] = Counter()
    for number in range(cars):
        there = Conditions(TEMPERATURES[number % len(TEMPERATURES)])
        found[outcome(vehicle, Car(here.catalogue, facts(vehicle), here.meters, cause, number, there), test)] += 1
    return found
