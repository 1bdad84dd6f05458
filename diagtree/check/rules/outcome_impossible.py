"""An outcome that no reading within its physical range can give.

Fires:

    --- catalogue/catalogue.yaml
    tests:
      other-point:
        ask: Does the car charge on another charge point?
        place: reception
        minutes: 1
        outcomes: [yes, no]
        healthy: no
        source: estimate
      sensor-resistance:
        ask: Resistance of the sensor
        place: reception
        minutes: 6
        reads: {resistance: ohm}
        outcomes: {low: below -5, normal: below 50000, open: otherwise}
        healthy: normal
        source: estimate
    causes:
      point-fault:
        name: Fault in the point
        where: outside
        shows: {other-point: {yes: 97, no: 3}}
        advise: {do: Have it checked., minutes: 10}
      sensor-open:
        name: Sensor open circuit
        where: inlet
        shows: {sensor-resistance: {open: 90, low: 2, normal: 8}}
        advise: {do: Have it replaced., minutes: 10}
    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: sensor-resistance}
      sensor-resistance:
        then: {low: {conclude: sensor-open}, normal: {conclude: point-fault}, open: {conclude: sensor-open}}

Silent:

    --- catalogue/catalogue.yaml
    tests:
      other-point:
        ask: Does the car charge on another charge point?
        place: reception
        minutes: 1
        outcomes: [yes, no]
        healthy: no
        source: estimate
      sensor-resistance:
        ask: Resistance of the sensor
        place: reception
        minutes: 6
        reads: {resistance: ohm}
        outcomes: {low: below 5, normal: below 50000, open: otherwise}
        healthy: normal
        source: estimate
    causes:
      point-fault:
        name: Fault in the point
        where: outside
        shows: {other-point: {yes: 97, no: 3}}
        advise: {do: Have it checked., minutes: 10}
      sensor-open:
        name: Sensor open circuit
        where: inlet
        shows: {sensor-resistance: {open: 90, low: 2, normal: 8}}
        advise: {do: Have it replaced., minutes: 10}
    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: sensor-resistance}
      sensor-resistance:
        then: {low: {conclude: sensor-open}, normal: {conclude: point-fault}, open: {conclude: sensor-open}}
"""

from __future__ import annotations

from collections.abc import Iterator
from math import isinf

from diagtree.check.limits_order import impossible
from diagtree.check.physical_range import physical_range
from diagtree.check.rule import Found, Rule
from diagtree.check.shown import told_once
from diagtree.check.subject import Car, Subject
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import Read


def find(subject: Subject) -> Iterator[Found]:
    """Return each outcome that interval arithmetic excludes on some car, whatever is read. It has no witness."""
    yield from told_once(subject, _on_cars(subject))


def _on_cars(subject: Subject) -> Iterator[tuple[Car, Found]]:
    for car in (*subject.cars[1:], subject.cars[0]):
        for test in car.catalogue.tests.values():
            for outcome in impossible(test, car) if test.reads else ():
                ranges = ", ".join(_range(read) for read in test.reads)
                yield car, Found(
                    outcome.at,
                    f"nothing that can be read gives `{outcome.id}` of test `{test.id}` ({ranges}); "
                    "look at the unit and the powers of ten of its limits",
                )


def _range(read: Read) -> str:
    physical = physical_range(read.unit)
    if isinf(physical.high):
        return f"{read.name} {physical.low:g} {read.unit} or more"
    return f"{read.name} {physical.low:g} to {physical.high:g} {read.unit}".rstrip()


RULE = Rule(
    id="outcome-impossible",
    family="meaning",
    level=Level.ERROR,
    finds="An outcome that no reading within the physical range of its unit can give, on some car.",
    why="A limit in the wrong unit calls every sound part faulty, or every faulty part sound.",
    find=find,
    text=__doc__,
)
