"""A question that is none.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Charging timer
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        source: estimate, common practice
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import jobs
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import Test


def find(subject: Subject) -> Iterator[Found]:
    """Return each test that neither reads a number nor asks a question."""
    for car in subject.cars:
        for job in jobs(car.catalogue):
            if isinstance(job.what, Test) and job.what.outcomes and not job.what.reads and "?" not in job.what.ask:
                yield Found(
                    job.place_of_text(subject, car, 0),
                    f"{job.name} asks no question; write one that {_listed(job.what.outcome_ids())} can answer",
                )


def _listed(names: tuple[str, ...]) -> str:
    return " or ".join(f"`{name}`" for name in names)


RULE = Rule(
    id="question-unclear",
    family="words",
    level=Level.REMARK,
    finds="A test without a reading whose text does not end in a question mark.",
    why="`Inlet clean` with the outcomes yes and no leaves open which of the two is meant.",
    find=find,
    text=__doc__,
)
