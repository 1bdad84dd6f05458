"""An observable that is not measured in the unit of the reading.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-sensor:
        ask: Resistance of the sensor on the desk
        place: reception
        minutes: 2
        reads: {resistance: {unit: ohm, of: temperature(inlet.ac_sensor)}}
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
from diagtree.physics.units import Unit, unit


def find(subject: Subject) -> Iterator[Found]:
    """Return each `of` that is measured in a unit that the reading's unit cannot meet."""
    for car in subject.cars:
        for test in car.catalogue.tests.values():
            for read in test.reads:
                try:
                    measured, read_in = unit(observable(read.of or "").unit), unit(read.unit)
                except WrongUse:
                    continue  # other rules tell names and units that do not exist
                if not _meet(measured, read_in):
                    yield Found(
                        test.places.get(f"reads.{read.name}.of", read.at),
                        f"reading `{read.name}` of test `{test.id}` is in {read_in}, but `{read.of}` is measured in "
                        f"{measured}: name what is read, or read it in its own unit",
                    )


def _meet(one: Unit, other: Unit) -> bool:
    """Return whether a number of one unit can be brought to the other; a difference in K is no temperature in degC."""
    alike = one.dimension.without_percent() == other.dimension.without_percent()
    return alike and one.offset == other.offset


RULE = Rule(
    id="observable-in-other-unit",
    family="links",
    level=Level.WARNING,
    finds="A reading in ohms of what is measured in volts, for instance.",
    why="A simulated car would show a number that means something else.",
    find=find,
    text=__doc__,
)
