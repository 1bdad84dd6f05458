"""A fact of the car that nothing reads.

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

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}
    inlet: {warm_above: 45, warm_abov: 50}

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

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}
    inlet: {warm_above: 45}
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from diagtree.check.rule import FOLDER, Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import VEHICLE, fact, fact_names, facts_used
from diagtree.check.written import fact_place
from diagtree.knowledge.fields import did_you_mean
from diagtree.knowledge.place import Level
from diagtree.physics.quantity import Facts
from diagtree.physics.setup import FACTS

_ALWAYS = (f"{VEHICLE}safety.dead_below", f"{VEHICLE}safety.wait")  # also read where a house writes no procedure


def find(subject: Subject) -> Iterator[Found]:
    """Return each value of each profile that no car's catalogue and no observable reads."""
    read = {*_ALWAYS, *(f"{VEHICLE}{name}" for name in FACTS)}
    for car in subject.cars:
        read.update(name for name, _ in facts_used(car.catalogue))
    for car in subject.cars:
        for name in _values(car.vehicle.facts) if car.vehicle is not None else ():
            if not _is_read(name, read):
                more = did_you_mean(name, read) or "; name it in a limit, or take it out"
                yield Found(fact_place(subject, car, name), f"nothing reads `{name}` of vehicle `{car.id}`{more}")


def _values(facts: Facts) -> Iterator[str]:
    """Give every fact that is a number or a word, not those that are parts of the profile."""
    for name in fact_names(facts):
        if isinstance(fact(facts, name), float | int | str):
            yield name


def _is_read(name: str, read: Collection[str]) -> bool:
    """Return whether a fact is read by itself, as a part of one that is read, or as what a part of it is read from."""
    keys = name.split(".")
    return any(".".join(keys[:count]) in read for count in range(2, len(keys) + 1)) or any(
        one.startswith(f"{name}.") for one in read
    )


RULE = Rule(
    id="unused-vehicle-value",
    family="links",
    level=Level.WARNING,
    finds="A value in a vehicle profile that no arithmetic names, no procedure uses and no simulated car asks for.",
    why="It is mostly a misspelt name: its author believes that the limits follow it, and they follow another.",
    find=find,
    text=__doc__,
    whole=FOLDER,
)
