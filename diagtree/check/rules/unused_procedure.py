"""A way to a dead car and back that nothing needs.

Fires:

    --- catalogue/catalogue.yaml
    tests:
      other-point:
        {ask: Does it charge elsewhere?, place: reception, minutes: 1, outcomes: [yes, no], healthy: no, source: none}
      timer-set:
        {ask: Is a timer set?, place: reception, minutes: 1, outcomes: [yes, no], healthy: no, source: none}
    causes:
      point-fault:
        name: Fault in the owner's charge point
        shows: {other-point: {yes: 97, no: 3}}
        advise: {do: Have it checked., minutes: 10}
      timer:
        name: A timer holds the charge back
        shows: {timer-set: {yes: 97, no: 3}}
        advise: {do: Show the owner the setting., minutes: 10}
    procedures:
      re-energise: {minutes: 10, steps: [{do: Close the service disconnect.}]}

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    causes: {point-fault: 40, timer: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: timer-set}
      timer-set:
        then: {no: {refer: the maker's helpline}, yes: {conclude: timer}}

Silent:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    causes: {point-fault: 40, timer: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: timer-set}
      timer-set:
        then: {no: {refer: the maker's helpline}, yes: {conclude: timer}}

    --- catalogue/catalogue.yaml
    tests:
      other-point:
        {ask: Does it charge elsewhere?, place: reception, minutes: 1, outcomes: [yes, no], healthy: no, source: none}
      timer-set:
        {ask: Is a timer set?, place: reception, minutes: 1, outcomes: [yes, no], healthy: no, source: none}
    causes:
      point-fault:
        name: Fault in the owner's charge point
        shows: {other-point: {yes: 97, no: 3}}
        advise: {do: Have it checked., minutes: 10}
      timer:
        name: A timer holds the charge back
        shows: {timer-set: {yes: 97, no: 3}}
        advise: {do: Show the owner the setting., minutes: 10}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import FOLDER, Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import jobs, relies_on_dead
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import MAKE_SAFE, RE_ENERGISE


def find(subject: Subject) -> Iterator[Found]:
    """Return the procedures to a dead car and back where no job on any car needs them."""
    if any(relies_on_dead(job, car.catalogue) for car in subject.cars for job in jobs(car.catalogue)):
        return
    for car in subject.cars:
        for name in (MAKE_SAFE, RE_ENERGISE):
            if name in car.catalogue.procedures:
                yield Found(
                    car.catalogue.procedures[name].at,
                    f"no job needs a dead car, so `{name}` is never used; write `power: dead` where it belongs, "
                    "or take it out",
                )


RULE = Rule(
    id="unused-procedure",
    family="links",
    level=Level.WARNING,
    finds="A `make-safe` or `re-energise` in a catalogue in which no job needs a dead car.",
    why="Either it was left behind, or a job that should say `power: dead` says something else.",
    find=find,
    text=__doc__,
    whole=FOLDER,
)
