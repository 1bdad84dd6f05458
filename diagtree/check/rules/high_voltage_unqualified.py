"""High voltage on a car that need not be dead, for anybody.

Fires:

    --- catalogue/more.yaml
    tests:
      battery-voltage:
        ask: Voltage of the battery
        place: bay
        minutes: 5
        needs: {power: live, tools: [multimeter]}
        mind: [Touch nothing but the probes.]
        reads: {between_poles: volt}
        outcomes: {low: below 300, fits: otherwise}
        healthy: fits
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      battery-voltage:
        ask: Voltage of the battery
        place: bay
        minutes: 5
        needs: {power: live, tools: [multimeter]}
        qualification: high-voltage
        mind: [Touch nothing but the probes.]
        reads: {between_poles: volt}
        outcomes: {low: below 300, fits: otherwise}
        healthy: fits
        source: estimate, common practice
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.check.danger_words import KEEPS_AWAY, ORANGE
from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import Job, at_the_desk, jobs
from diagtree.check.walk_to_job import walk_to
from diagtree.errors import DiagtreeError, WrongUse
from diagtree.knowledge.access_order import closure
from diagtree.knowledge.limits import evaluate
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import Catalogue, Power, Qualification, Test
from diagtree.physics.observable import observable
from diagtree.physics.units import unit
from diagtree.walk.absence import DC_LIMIT

_ORANGE_PART = re.compile(r"\borange\b", re.IGNORECASE)
_INSULATION = re.compile(r"\b(?:insulation|isolation) (?:resistance|tester)\b|^insulation\b", re.IGNORECASE)


def find(subject: Subject) -> Iterator[Found]:
    """Return each test in the bay or on the road that meets high voltage with no power and no qualification said."""
    told: set[str] = set()
    for car in subject.cars:
        for job in jobs(car.catalogue):
            test = job.what
            if not isinstance(test, Test) or job.id in told or at_the_desk(test):
                continue
            if test.needs.power is Power.DEAD or test.qualification is not Qualification.NONE:
                continue
            why = _meets(job, test, car.catalogue)
            if why:
                told.add(job.id)  # for the catalogue as written, else for the first car that differs
                yield Found(
                    job.place(subject, car),
                    f"{job.name} {why} with power `{test.needs.power}` and no qualification; write `power: dead` and "
                    "`qualification: high-voltage`, or who may do it live",
                    walk_to(subject, car, job),
                )


def _meets(job: Job, test: Test, catalogue: Catalogue) -> str:
    """Return, in words, how a test meets high voltage; "" where it does not."""
    for access in sorted(closure(test.needs.open, catalogue.access)):
        if ORANGE.search(f"{access} {catalogue.access[access].name}"):
            return f"opens `{access}`"
    for text in job.texts:
        for sentence in re.split(r"[.;:]", text):
            if _ORANGE_PART.search(sentence) and not KEEPS_AWAY.search(sentence):
                return "works at an orange part"
    if test.reads and any(ORANGE.search(text) or _INSULATION.search(text) for text in _names(test)):
        return "reads a high voltage or its insulation"
    measured = next((read.of for read in test.reads if read.of and _hazard(read.of) == "high-voltage"), None)
    if measured is not None:
        return f"reads `{measured}`"
    return "reads more than 60 V" if _highest_limit(test) > DC_LIMIT else ""


def _names(test: Test) -> Iterator[str]:
    yield test.ask
    for read in test.reads:
        yield read.name.replace("_", " ")
        yield (read.of or "").replace("_", " ")


def _hazard(name: str) -> str:
    try:
        return observable(name).hazard
    except WrongUse:  # told by the reader
        return "none"


def _highest_limit(test: Test) -> float:
    """Return the highest limit of a test that judges one reading of voltage; 0 where it judges something else. [V]"""
    judged = next((read for read in test.reads if test.judge is not None and read.name == test.judge.text), None)
    if judged is None:
        return 0.0
    try:
        measured = unit(judged.unit)
        if measured.dimension != unit("volt").dimension:
            return 0.0
        limits = [evaluate(one.below, {}) for one in test.outcomes if one.below is not None and not one.below.names]
    except DiagtreeError:  # told by the reader
        return 0.0
    return max(limits, default=0.0) * float(measured.factor)


RULE = Rule(
    id="high-voltage-unqualified",
    family="safety",
    level=Level.ERROR,
    finds=(
        "A test that reads a high voltage, or works at an orange part, with power other than dead and no "
        "qualification."
    ),
    why="Somebody who was never taught would put probes on some hundred volts.",
    find=find,
    text=__doc__,
)
