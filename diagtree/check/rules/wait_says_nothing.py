"""A wait for the capacitors that does not wait on this car.

How long is the maker's value: no standard gives a shortest wait for work on a car, so none is taken here.

Fires:

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 0}
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
            - {kind: absence, between: [DC+ and DC-, DC+ and chassis, DC- and chassis], below: 30}
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
            - {kind: absence, between: [DC+ and DC-, DC+ and chassis, DC- and chassis], below: 30}
            - {kind: prove-tester}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Car, Subject
from diagtree.check.use import VEHICLE
from diagtree.check.written import fact_place
from diagtree.errors import DiagtreeError
from diagtree.knowledge.limits import MissingName, UnknownFact, evaluate
from diagtree.knowledge.place import Level, Place
from diagtree.knowledge.words import MAKE_SAFE, ProcedureStep
from diagtree.physics.quantity import Value


def find(subject: Subject) -> Iterator[Found]:
    """Return each wait of making safe that comes to no minutes; a fact's in its profile, on each car."""
    for car in subject.cars:
        procedure = car.catalogue.procedures.get(MAKE_SAFE)
        for step in procedure.steps if procedure is not None else ():
            trouble = _trouble(step, car) if step.kind == "wait" else ""
            if trouble:
                yield Found(
                    _place(step, subject, car),
                    f"{trouble}; write the maker's minutes as a plain number (5), or `unknown`: then the walk asks for "
                    "the maker's time",
                )


def _trouble(step: ProcedureStep, car: Car) -> str:
    if step.minutes is None:
        return ""
    values: dict[str, Value] = {"vehicle": car.vehicle.facts} if car.vehicle is not None else {}
    try:
        minutes = evaluate(step.minutes, values)
    except (UnknownFact, MissingName):  # said to be unknown; a name that is nowhere is told by `unknown-vehicle-value`
        return ""
    except DiagtreeError:
        return "the wait for the discharge is no number of minutes on this car"
    return "" if minutes > 0 else f"the wait for the discharge comes to {minutes:g} min"


def _place(step: ProcedureStep, subject: Subject, car: Car) -> Place:
    facts = [name for name in step.minutes.names if name.startswith(VEHICLE)] if step.minutes else []
    return fact_place(subject, car, facts[0]) if facts and car.vehicle is not None else step.at


RULE = Rule(
    id="wait-says-nothing",
    family="safety",
    level=Level.WARNING,
    finds="A wait of `make-safe` that comes to 0 minutes on a car, or to no number.",
    why="The capacitors still hold their charge; the screen would say that nothing is to be waited for.",
    find=find,
    text=__doc__,
)
