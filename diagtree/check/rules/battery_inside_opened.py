"""A correction inside a battery.

Fires:

    --- catalogue/more.yaml
    causes:
      cell-weak:
        name: One cell of the battery is weak
        where: battery
        correction: {do: Replace the cell module, minutes: 60, needs: {power: dead}}
        proof: {charge: ac, minutes: 30}

Silent:

    --- catalogue/more.yaml
    causes:
      cell-weak:
        name: One cell of the battery is weak
        where: battery
        correction: {do: Renew the coolant hose at the battery, minutes: 60, needs: {power: dead}}
        proof: {charge: ac, minutes: 30}
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import jobs
from diagtree.check.walk_to_job import walk_to
from diagtree.knowledge.access_order import closure
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import Correction

_INSIDE = re.compile(
    r"\b(?:cells?|modules?|busbars?)\b|\binside (?:of )?the (?:\w+ )?(?:battery|pack)\b|"
    r"\b(?:battery|pack)[- ](?:lid|cover|case|casing|housing)\b|\b(?:lid|cover|case|housing) of the battery\b|"
    r"\bopen(?:s|ing)? the (?:\w+ )?(?:battery|pack)\b",
    re.IGNORECASE,
)


def find(subject: Subject) -> Iterator[Found]:
    """Return each correction of a cause in the battery that opens it, by its words, its parts or its accesses."""
    told: set[str] = set()
    for car in subject.cars:
        for job in jobs(car.catalogue):
            if job.id in told or not isinstance(job.what, Correction):
                continue
            if car.catalogue.causes[job.id].where != "battery":
                continue
            access = sorted(closure(job.needs.open, car.catalogue.access))
            said = (
                *job.texts, *(part.name for part in job.what.parts),
                *(f"{name} {car.catalogue.access[name].name}" for name in access),
            )  # fmt: skip
            if any(_INSIDE.search(text) for text in said):
                told.add(job.id)  # for the catalogue as written, else for the first car that differs
                yield Found(
                    job.place(subject, car),
                    f"{job.name} opens the battery, whose inside is never dead; end it in `advise:`, or take the cause "
                    "out and refer the car",
                    walk_to(subject, car, job),
                )


RULE = Rule(
    id="battery-inside-opened",
    family="safety",
    level=Level.ERROR,
    finds="A cause in the battery whose correction opens it.",
    why="The inside of a battery is never dead; such a cause ends in advice or in a referral.",
    find=find,
    text=__doc__,
)
