"""Work on a dead car, and no procedure that makes it dead.

Fires:

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}
    differs:
      procedures: {make-safe: {steps: []}}

Silent:

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}
    differs:
      procedures: {make-safe: {minutes: 40}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import CATALOGUE, Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import jobs, makes_safe, relies_on_dead
from diagtree.check.written import place_on
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import MAKE_SAFE


def find(subject: Subject) -> Iterator[Found]:
    """Return, for each car without a making safe, the first job that needs one; its steps' place where it has none."""
    for car in subject.cars:
        needing = [job for job in jobs(car.catalogue) if relies_on_dead(job, car.catalogue)]
        if not needing or makes_safe(car.catalogue):
            continue
        first, more = needing[0], f", like {len(needing) - 1} more" if len(needing) > 1 else ""
        empty = car.catalogue.procedures.get(MAKE_SAFE)
        yield Found(
            place_on(subject, car, empty.at, "procedures", MAKE_SAFE, "steps") if empty else first.place(subject, car),
            f"{first.name} needs a dead car{more}, and there is no procedure `make-safe` with steps; write it under "
            "`procedures:`",
        )


RULE = Rule(
    id="make-safe-missing",
    family="safety",
    level=Level.ERROR,
    finds=(
        "A test, a correction or an access that needs a dead car in a catalogue without a `make-safe` that "
        "has steps."
    ),
    why="No walk can begin: nobody could prove that the car is dead.",
    find=find,
    text=__doc__,
    whole=CATALOGUE,
)
