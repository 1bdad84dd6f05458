"""A danger named in the text, and no caution about it.

Fires:

    --- catalogue/more.yaml
    tests:
      lamp-lit:
        ask: Is there water in the inlet?
        place: bay
        minutes: 1
        needs: {power: live}
        outcomes: [yes, no]
        healthy: yes
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      lamp-lit:
        ask: Is there water in the inlet?
        mind: [Do not plug in while it is wet.]
        place: bay
        minutes: 1
        needs: {power: live}
        outcomes: [yes, no]
        healthy: yes
        source: estimate, common practice
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from diagtree.check.danger_words import DANGERS, KEEPS_AWAY, DangerWords
from diagtree.check.rule import CATALOGUE, Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import Job, jobs
from diagtree.check.walk_to_job import walk_to
from diagtree.knowledge.access_order import closure
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import Catalogue, Test


def find(subject: Subject) -> Iterator[Found]:
    """Return each job that names a danger and has no caution about it, on itself or on what it opens.

    A test that stops the job where the danger is found is its own caution.
    """
    for car in subject.cars:
        for job in jobs(car.catalogue):
            if isinstance(job.what, Test) and job.what.stop:
                continue
            for danger, number in _unanswered(job.texts, tuple(_minds(job, car.catalogue))):
                yield Found(
                    job.place_of_text(subject, car, number),
                    f"{job.name} speaks of danger ({danger.id}) and has no caution about it; write one under "
                    f"`mind:`, such as: {danger.caution}",
                    walk_to(subject, car, job),
                )


@lru_cache(maxsize=4096)
def _unanswered(texts: tuple[str, ...], minds: tuple[str, ...]) -> tuple[tuple[DangerWords, int], ...]:
    """Return each danger that the texts name and no caution is about, with the number of the text."""
    named = ((danger, _named(texts, danger)) for danger in DANGERS)
    return tuple(
        (danger, number)
        for danger, number in named
        if number is not None and not any(danger.answered.search(mind) for mind in minds)
    )


def _named(texts: tuple[str, ...], danger: DangerWords) -> int | None:
    """Return the number of the text that names the danger; None where none does, or where it is itself a caution."""
    for number, text in enumerate(texts):
        named = danger.named.search(text)
        if named is not None and not KEEPS_AWAY.search(text[: named.start()]):
            return number
    return None


def _minds(job: Job, catalogue: Catalogue) -> Iterator[str]:
    yield from job.what.mind
    for access in sorted(closure(job.needs.open, catalogue.access)):
        yield from catalogue.access[access].mind


RULE = Rule(
    id="danger-without-caution",
    family="safety",
    level=Level.WARNING,
    finds=(
        "A job that speaks of burns, water, airbags, a lifted car, high voltage or 12 V off, without a "
        "`mind:` about it."
    ),
    why="The one who wrote it knew of the danger; the one who reads it may not.",
    find=find,
    text=__doc__,
    whole=CATALOGUE,
)
