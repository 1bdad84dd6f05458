"""A car that would count as dead at a voltage that can kill.

Fires:

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 90, wait: 5}
    differs:
      procedures:
        make-safe:
          steps:
            - {kind: unplug}
            - {kind: switch-off}
            - {kind: disconnect}
            - {kind: secure}
            - {kind: wait, minutes: vehicle.safety.wait}
            - {kind: prove-tester}
            - kind: absence
              between: [DC+ and DC-, DC+ and chassis, DC- and chassis]
              below: vehicle.safety.dead_below
            - {kind: prove-tester}

Silent:

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}
    differs:
      procedures:
        make-safe:
          steps:
            - {kind: unplug}
            - {kind: switch-off}
            - {kind: disconnect}
            - {kind: secure}
            - {kind: wait, minutes: vehicle.safety.wait}
            - {kind: prove-tester}
            - kind: absence
              between: [DC+ and DC-, DC+ and chassis, DC- and chassis]
              below: vehicle.safety.dead_below
            - {kind: prove-tester}
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Car, Subject
from diagtree.check.use import VEHICLE
from diagtree.check.written import fact_place
from diagtree.errors import DiagtreeError
from diagtree.knowledge.limits import evaluate
from diagtree.knowledge.place import Level, Place
from diagtree.knowledge.words import ProcedureStep
from diagtree.physics.quantity import Value
from diagtree.walk.absence import AC_LIMIT, DC_LIMIT

_AC = re.compile(r"\b(?:AC|L[123]?|N|phase)\b", re.IGNORECASE)


def find(subject: Subject) -> Iterator[Found]:
    """Return each absence limit above the standard's; a fact's in its profile, on each car."""
    for car in subject.cars:
        for procedure in car.catalogue.procedures.values():
            for step in procedure.steps:
                limit, most = _limit(step, car), _most(step)
                if limit is not None and limit > most:
                    kind = "30 V AC" if most == AC_LIMIT else "60 V DC"
                    yield Found(
                        _place(step, subject, car),
                        f"the absence of voltage would be told below {limit:g} V; write at most {kind} (UN R100, "
                        "ISO 6469-3), or less where the maker says so",
                    )


def _limit(step: ProcedureStep, car: Car) -> float | None:
    """Return the limit on this car; None where it cannot be computed. [V]"""
    if step.below is None:
        return None
    values: dict[str, Value] = {"vehicle": car.vehicle.facts} if car.vehicle is not None else {}
    try:
        return evaluate(step.below, values)
    except DiagtreeError:  # unknown on this car: the walk takes the standard's
        return None


def _most(step: ProcedureStep) -> float:
    """Return the standard's limit. [V]

    That for AC where only AC is measured; of mixed pairs the walk itself holds the AC ones to it.
    """
    only_ac = bool(step.between) and all(_AC.search(points) for points in step.between)
    return AC_LIMIT if only_ac else DC_LIMIT


def _place(step: ProcedureStep, subject: Subject, car: Car) -> Place:
    facts = [name for name in step.below.names if name.startswith(VEHICLE)] if step.below else []
    return fact_place(subject, car, facts[0]) if facts else step.places.get("below", step.at)


RULE = Rule(
    id="absence-limit-too-high",
    family="safety",
    level=Level.ERROR,
    finds="An absence limit above 60 V DC or 30 V AC, written or from a vehicle profile (UN R100, ISO 6469-3).",
    why="The standard's limit holds whatever is written; an author who believes otherwise misreads the car.",
    find=find,
    text=__doc__,
)
