"""A profile without a fact that limits need.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-warm:
        ask: How warm is the inlet?
        place: reception
        minutes: 2
        reads: {rim: degC}
        outcomes: {cool: below vehicle.inlet.warm_above, warm: otherwise}
        healthy: cool
        source: estimate, common practice

    --- vehicles/marlin-1.yaml
    vehicle: marlin-1
    safety: {dead_below: 30, wait: 5}
    inlet: {warm_above: 45}

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}

Silent:

    --- catalogue/more.yaml
    tests:
      inlet-warm:
        ask: How warm is the inlet?
        place: reception
        minutes: 2
        reads: {rim: degC}
        outcomes: {cool: below vehicle.inlet.warm_above, warm: otherwise}
        healthy: cool
        source: estimate, common practice

    --- vehicles/marlin-1.yaml
    vehicle: marlin-1
    safety: {dead_below: 30, wait: 5}
    inlet: {warm_above: 45}

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}
    inlet: {warm_above: unknown}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import VEHICLES, Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import fact, facts_used
from diagtree.check.written import fact_place
from diagtree.knowledge.place import Level


def find(subject: Subject) -> Iterator[Found]:
    """Return each fact that a profile lacks, at the part of the profile where it belongs."""
    cars = [car.vehicle for car in subject.cars if car.vehicle is not None]
    for car in subject.cars:
        for name, _ in facts_used(car.catalogue) if car.vehicle is not None else ():
            assert car.vehicle is not None
            if fact(car.vehicle.facts, name) is None and any(fact(one.facts, name) is not None for one in cars):
                yield Found(
                    fact_place(subject, car, name),
                    f"vehicle `{car.id}` lacks `{name}`, which a limit uses; write it, as `unknown` if it is not known",
                )


RULE = Rule(
    id="vehicle-value-missing",
    family="links",
    level=Level.WARNING,
    finds="A vehicle profile that lacks a value which arithmetic names and another profile has.",
    why="On this car the walk has to ask for it in the middle of a job; `unknown` says that it was looked for.",
    find=find,
    text=__doc__,
    whole=VEHICLES,
)
