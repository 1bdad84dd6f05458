"""A step that does not fit a glance.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        how:
          - Open the menu.
          - Open the menu of the car that is called charging or energy or battery, look for a timer, a departure
            time, a tariff or a place, and write down each of them as the owner had it before you change anything.
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
        how:
          - Open the menu.
          - Write down each timer as the owner had it.
        source: estimate, common practice
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import jobs
from diagtree.check.written import place_on
from diagtree.knowledge.place import Level

LONGEST = 2 * 76  # two lines of a screen of 80, less the margin


def find(subject: Subject) -> Iterator[Found]:
    """Return each step of a test, a correction or a procedure that takes more than two lines."""
    for car in subject.cars:
        for job in jobs(car.catalogue):
            for number, text in enumerate(job.texts):
                if number and len(text) > LONGEST:
                    yield Found(job.place_of_text(subject, car, number), _words(job.name, text))
        for procedure in car.catalogue.procedures.values():
            for number, step in enumerate(procedure.steps):
                if len(step.do) > LONGEST:
                    at = place_on(subject, car, procedure.at, "procedures", procedure.id, "steps", number, "do")
                    yield Found(at, _words(f"procedure `{procedure.id}`", step.do))


def _words(name: str, text: str) -> str:
    return f"a step of {name} has {len(text)} letters; write two steps of at most {LONGEST} each"


RULE = Rule(
    id="how-step-too-long",
    family="words",
    level=Level.REMARK,
    finds="A step of a job or of a procedure longer than two lines of a screen.",
    why="With gloves on nobody reads on to the end, where the caution stands.",
    find=find,
    text=__doc__,
)
