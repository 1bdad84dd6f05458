"""A fault that the part cannot have.

Fires:

    --- catalogue/more.yaml
    causes:
      probe-open:
        name: Sensor of the inlet open circuit
        where: inlet
        fault: {inlet.ac_sensor: opne}
        advise: {do: Have the sensor replaced., minutes: 5}
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    causes:
      probe-open:
        name: Sensor of the inlet open circuit
        where: inlet
        fault: {inlet.ac_sensor: open}
        advise: {do: Have the sensor replaced., minutes: 5}
        source: estimate, common practice
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level
from diagtree.physics.part import UnknownFault, UnknownPart, fault


def find(subject: Subject) -> Iterator[Found]:
    """Return each fault that its part cannot have, at its place."""
    for car in subject.cars:
        for cause in car.catalogue.causes.values():
            for name, written in cause.fault.items():
                try:
                    fault(name, written)
                except UnknownPart:
                    continue  # `unknown-part` tells it
                except UnknownFault as error:
                    at = cause.places.get(f"fault.{name}.is", cause.at)
                    yield Found(at, f"`fault` of cause `{cause.id}`: {error}")


RULE = Rule(
    id="unknown-fault",
    family="links",
    level=Level.WARNING,
    finds="A fault that this part cannot have, or a number out of its range.",
    why="A simulated car could not be broken in that way.",
    find=find,
    text=__doc__,
)
