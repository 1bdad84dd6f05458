"""A name under `of` that physics cannot simulate.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-sensor:
        ask: Resistance of the sensor on the desk
        place: reception
        minutes: 2
        reads: {resistance: {unit: ohm, of: resistance(inlet.ac_sensr)}}
        outcomes: {low: below 9000, high: otherwise}
        healthy: high
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      inlet-sensor:
        ask: Resistance of the sensor on the desk
        place: reception
        minutes: 2
        reads: {resistance: {unit: ohm, of: resistance(inlet.ac_sensor)}}
        outcomes: {low: below 9000, high: otherwise}
        healthy: high
        source: estimate, common practice
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.errors import WrongUse
from diagtree.knowledge.place import Level
from diagtree.physics.observable import observable


def find(subject: Subject) -> Iterator[Found]:
    """Return each `of` that names no observable, at its place."""
    for car in subject.cars:
        for test in car.catalogue.tests.values():
            for read in test.reads:
                try:
                    if read.of is not None:
                        observable(read.of)
                except WrongUse as error:
                    at = test.places.get(f"reads.{read.name}.of", read.at)
                    yield Found(at, f"reading `{read.name}` of test `{test.id}`: {error}")


RULE = Rule(
    id="unknown-observable",
    family="links",
    level=Level.WARNING,
    finds="A name under `of` that is no observable.",
    why="A simulated car could not answer this test, and nothing would hold its figures against physics.",
    find=find,
    text=__doc__,
)
