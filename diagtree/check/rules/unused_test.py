"""A test that nothing uses.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
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
    causes:
      timer:
        name: A timer holds the charge back
        where: software
        shows: {timer-set: {yes: 10, no: 90}}
        advise: {do: Show the owner the setting., minutes: 10}

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    causes: {point-fault: 40, sensor-open: 30, timer: 10, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: sensor-resistance}
      sensor-resistance:
        then: {normal: {refer: the maker's helpline}, open: {conclude: sensor-open}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import FOLDER, Found, Rule
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level


def find(subject: Subject) -> Iterator[Found]:
    """Return each test that neither a tree nor a cause names, on any car."""
    used = {step.test for tree in subject.trees.values() for step in tree.steps.values()}
    used.update(test for car in subject.cars for cause in car.catalogue.causes.values() for test in cause.shows)
    for car in subject.cars if subject.trees else ():
        for test in car.catalogue.tests.values():
            if test.id not in used:
                yield Found(
                    test.at, f"no step performs test `{test.id}` and no cause shows it; use it, or take it out"
                )


RULE = Rule(
    id="unused-test",
    family="links",
    level=Level.WARNING,
    finds="A test of the catalogue that no step performs and no cause shows.",
    why="Somebody wrote it for a tree that forgot it, or a misspelt name now goes another way.",
    find=find,
    text=__doc__,
    whole=FOLDER,
)
