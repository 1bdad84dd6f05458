"""A part under `fault` that physics does not know.

Fires:

    --- catalogue/more.yaml
    causes:
      probe-open:
        name: Sensor of the inlet open circuit
        where: inlet
        fault: {inlet.ac_sensr: open}
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
from diagtree.physics.part import UnknownPart, part


def find(subject: Subject) -> Iterator[Found]:
    """Return each part under `fault` that there is not, at its place."""
    for car in subject.cars:
        for cause in car.catalogue.causes.values():
            for name in cause.fault:
                try:
                    part(name)
                except UnknownPart as error:
                    yield Found(cause.places.get(f"fault.{name}", cause.at), f"`fault` of cause `{cause.id}`: {error}")


RULE = Rule(
    id="unknown-part",
    family="links",
    level=Level.WARNING,
    finds="A part under `fault` that no list of parts holds.",
    why="A simulated car would have no such part to break.",
    find=find,
    text=__doc__,
)
