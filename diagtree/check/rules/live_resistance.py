"""A resistance measured on a live circuit.

Fires:

    --- catalogue/more.yaml
    tests:
      pilot-resistance:
        ask: Resistance between pilot pin and earth pin of the inlet
        place: bay
        minutes: 5
        needs: {power: live, tools: [multimeter]}
        qualification: high-voltage
        reads: {resistance: ohm}
        outcomes: {low: below 900, normal: otherwise}
        healthy: normal
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      pilot-resistance:
        ask: Resistance between pilot pin and earth pin of the inlet
        place: bay
        minutes: 5
        needs: {power: dead, tools: [multimeter]}
        qualification: high-voltage
        reads: {resistance: ohm}
        outcomes: {low: below 900, normal: otherwise}
        healthy: normal
        source: estimate, common practice
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import at_the_desk, jobs
from diagtree.check.walk_to_job import walk_to
from diagtree.errors import WrongUse
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import Power, Test
from diagtree.physics.units import unit

_READ_OUT = re.compile(r"scan|read-?out|display|\bapp\b", re.IGNORECASE)
_METER = re.compile(r"meter|tester", re.IGNORECASE)
_LOOP = re.compile(r"\bloop\b", re.IGNORECASE)


def find(subject: Subject) -> Iterator[Found]:
    """Return each test that reads ohms with the car live. A number that a scan tool reads out is the car's own.

    Earth loops are measured live, with a tester that is made for it.
    """
    for car in subject.cars:
        for job in jobs(car.catalogue):
            test = job.what
            if not isinstance(test, Test) or at_the_desk(test) or _made_for_live(test):
                continue
            if test.needs.power is not Power.LIVE:
                continue
            for read in test.reads:
                if _is_resistance(read.unit):
                    yield Found(
                        read.at,
                        f"test `{test.id}` reads `{read.name}` in {read.unit} on a live car; write `power: dead`, or "
                        "measure a voltage instead",
                        walk_to(subject, car, job),
                    )


def _is_resistance(name: str) -> bool:
    try:
        return unit(name).dimension == unit("ohm").dimension
    except WrongUse:  # told by the reader
        return False


def _made_for_live(test: Test) -> bool:
    tools = test.needs.tools
    read_out = any(_READ_OUT.search(tool) for tool in tools) and not any(_METER.search(tool) for tool in tools)
    return read_out or any(_LOOP.search(tool) for tool in tools)


RULE = Rule(
    id="live-resistance",
    family="safety",
    level=Level.ERROR,
    finds="A test that reads ohms with a meter while the car is live.",
    why="An ohmmeter is its own source: on a live circuit it shows nonsense, or it bursts in the hand.",
    find=find,
    text=__doc__,
)
