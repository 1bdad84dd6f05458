"""Limits of a test that are equal or descend, on some car or for some readings.

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
        outcomes: {normal: below 50000, low: below 5000, open: otherwise}
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
        shows: {sensor-resistance: {open: 92, normal: 8}}
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
        outcomes: {low: below 5000, normal: below 50000, open: otherwise}
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

from diagtree.check.limits_order import Crossed, crossed
from diagtree.check.rule import Found, Rule
from diagtree.check.shown import told_once
from diagtree.check.subject import Car, Subject
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import Test


def find(subject: Subject) -> Iterator[Found]:
    """Return each outcome whose limit is not above the one before it, on some car and for some readings."""
    yield from told_once(subject, _on_cars(subject))


def _on_cars(subject: Subject) -> Iterator[tuple[Car, Found]]:
    for car in (*subject.cars[1:], subject.cars[0]):
        for test in car.catalogue.tests.values():
            for one in crossed(test, car) if len(test.outcomes) > 2 else ():
                yield car, Found(one.upper.at, _message(test, one), _witness(subject, car, test, one))


def _message(test: Test, one: Crossed) -> str:
    low, high = one.limits
    how = "is equal to" if low == high else "is below"
    typed = one.readings.readings if one.readings else {}
    where = f" at {', '.join(f'{name} = {text}' for name, text in typed.items())}" if typed else ""
    return (
        f"the limit of `{one.upper.id}` ({high:g}) of test `{test.id}` {how} that of `{one.lower.id}` "
        f"({low:g}){where}; write the outcomes in the order of their limits"
    )


def _witness(subject: Subject, car: Car, test: Test, one: Crossed) -> str | None:
    readings = one.readings
    if readings is None and car.bench(test.id).fit:
        bench = car.bench(test.id)
        readings = bench.as_typed(next(bench.backgrounds("")))
    for walked in subject.trees_on_cars() if readings else ():
        step = next((step_id for step_id in walked.flow.order if walked.tree.steps[step_id].test == test.id), None)
        if walked.car is car and step is not None and readings is not None:
            return walked.witnesses.with_readings(step, readings)
    return None


RULE = Rule(
    id="limits-out-of-order",
    family="meaning",
    level=Level.ERROR,
    finds="Limits that are equal or descend, written so or computed so for some car or some readings.",
    why="The outcome between them can never be given, or the walk cannot judge the reading at all.",
    find=find,
    text=__doc__,
    follows=True,
)
