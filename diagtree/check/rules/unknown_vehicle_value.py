"""A fact of the car that no profile has.

Fires:

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}
    inlet: {warm_above: 45}

    --- catalogue/more.yaml
    tests:
      inlet-warm:
        ask: How warm is the inlet?
        place: reception
        minutes: 2
        reads: {rim: degC}
        outcomes: {cool: below vehicle.inlet.warm_abov, warm: otherwise}
        healthy: cool
        source: estimate, common practice

Silent:

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}
    inlet: {warm_above: 45}

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
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import VEHICLES, Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import fact, fact_names, facts_used
from diagtree.knowledge.fields import did_you_mean
from diagtree.knowledge.place import Level


def find(subject: Subject) -> Iterator[Found]:
    """Return each fact that arithmetic names and no profile has; nothing where the folder has no profile at all."""
    cars = [car.vehicle for car in subject.cars if car.vehicle is not None]
    for car in subject.cars if cars else ():
        for name, at in facts_used(car.catalogue):
            if all(fact(vehicle.facts, name) is None for vehicle in cars):
                near = did_you_mean(name, [known for vehicle in cars for known in fact_names(vehicle.facts)])
                more = near or "; write it in each profile, as `unknown` where the maker does not tell"
                yield Found(at, f"no vehicle profile has `{name}`{more}")


RULE = Rule(
    id="unknown-vehicle-value",
    family="links",
    level=Level.ERROR,
    finds="Arithmetic that names a `vehicle.*` value which stands in none of the vehicle profiles.",
    why="The walk would ask the technician for a maker's value that nobody has ever heard of.",
    find=find,
    text=__doc__,
    whole=VEHICLES,
)
