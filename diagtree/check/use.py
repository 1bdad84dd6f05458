"""What of the knowledge is used by what: names in `open`, `after`, `shows` and steps, and facts in arithmetic."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from diagtree.check.rule import Found
from diagtree.check.subject import Car, Subject
from diagtree.check.written import place_on
from diagtree.knowledge.limits import Expression
from diagtree.knowledge.place import Place
from diagtree.knowledge.words import MAKE_SAFE, Catalogue, Correction, Needs, Power, Test, Where
from diagtree.physics.quantity import Facts
from diagtree.records import dataclass

VEHICLE = "vehicle."


@dataclass(frozen=True, slots=True)
class Job:
    """A test or a correction: what its author wrote that both have. `section` and `id` name it in the catalogue."""

    section: str
    id: str
    what: Test | Correction
    path: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Its name in messages."""
        return f"test `{self.id}`" if self.section == "tests" else f"the correction of cause `{self.id}`"

    @property
    def needs(self) -> Needs:
        """What must hold before it."""
        return self.what.needs

    @property
    def texts(self) -> tuple[str, ...]:
        """What it tells people to do: its question or task first, then its steps."""
        first = self.what.ask if isinstance(self.what, Test) else self.what.do
        return (first, *self.what.how)

    def place(self, subject: Subject, car: Car, *path: str | int) -> Place:
        """Return where what `path` leads to is written for `car`."""
        at = getattr(car.catalogue, self.section)[self.id].at
        return place_on(subject, car, at, self.section, self.id, *self.path, *path)

    def place_of_text(self, subject: Subject, car: Car, number: int) -> Place:
        """Return where number `number` of `texts` is written for `car`."""
        first = "ask" if self.section == "tests" else "do"
        return self.place(subject, car, *((first,) if number == 0 else ("how", number - 1)))


def jobs(catalogue: Catalogue) -> Iterator[Job]:
    """Give every test and every correction."""
    for test in catalogue.tests.values():
        yield Job("tests", test.id, test)
    for cause in catalogue.causes.values():
        if cause.correction is not None:
            yield Job("causes", cause.id, cause.correction, ("correction",))


def at_the_desk(test: Test) -> bool:
    """Return whether a test is done at the desk with nothing open: no hand comes near the car."""
    return test.place is Where.RECEPTION and not test.needs.open


def relies_on_dead(job: Job, catalogue: Catalogue) -> bool:
    """Return whether the car must be made safe for a job, by what it needs or by what it opens."""
    from diagtree.knowledge.access_order import closure

    opened = closure(job.needs.open, catalogue.access)
    return job.needs.power is Power.DEAD or any(catalogue.access[access].dead_only for access in opened)


def without_procedure(
    subject: Subject, procedure: str, needs: Callable[[Job, Catalogue], bool], what: str
) -> Iterator[Found]:
    """Return, once, the first job that needs a procedure which the catalogue lacks. what : what the job does."""
    for car in subject.cars:
        needing = next((job for job in jobs(car.catalogue) if needs(job, car.catalogue)), None)
        if needing is not None and procedure not in car.catalogue.procedures:
            message = f"{needing.name} {what}, and there is no procedure `{procedure}`; write it under `procedures:`"
            yield Found(needing.place(subject, car), message)
            return


def opened_names(catalogue: Catalogue) -> frozenset[str]:
    """Return every access that a job, making safe or another access asks for."""
    found = {access for job in jobs(catalogue) for access in job.needs.open}
    found.update(access for procedure in catalogue.procedures.values() for access in procedure.open)
    found.update(below for access in catalogue.access.values() for below in access.after)
    return frozenset(found)


def expressions(catalogue: Catalogue) -> Iterator[tuple[Expression, Place]]:
    """Give all arithmetic of the catalogue with its place."""
    for test in catalogue.tests.values():
        for key, written in (("expected", test.expected), ("judge", test.judge)):
            if written is not None:
                yield written, test.places.get(key, test.at)
        for outcome in test.outcomes:
            if outcome.below is not None:
                yield outcome.below, outcome.at
    for procedure in catalogue.procedures.values():
        for step in procedure.steps:
            for key, written in (("minutes", step.minutes), ("below", step.below)):
                if written is not None:
                    yield written, step.places.get(key, step.at)


def facts_used(catalogue: Catalogue) -> Iterator[tuple[str, Place]]:
    """Give every `vehicle.*` that the catalogue's arithmetic names, with its place."""
    for expression, at in expressions(catalogue):
        for name in expression.names:
            if name.startswith(VEHICLE):
                yield name, at


def fact(facts: Facts, dotted: str) -> Facts | float | str | None:
    """Return the fact `vehicle.a.b`; None where the profile does not have it."""
    found: Facts | float | str | None = facts
    for key in dotted.removeprefix(VEHICLE).split("."):
        found = found.get(key) if isinstance(found, Mapping) else None
    return found


def makes_safe(catalogue: Catalogue) -> bool:
    """Return whether the catalogue has a making safe with steps of its own."""
    procedure = catalogue.procedures.get(MAKE_SAFE)
    return procedure is not None and bool(procedure.steps)


def fact_names(facts: Facts, before: str = VEHICLE) -> Iterator[str]:
    """Give every fact of a profile as arithmetic names it: `vehicle.a.b`."""
    for key, value in facts.items():
        yield f"{before}{key}"
        if isinstance(value, Mapping):
            yield from fact_names(value, f"{before}{key}.")
