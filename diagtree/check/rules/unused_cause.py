"""A cause that no tree lists.

Fires:

    --- catalogue/more.yaml
    causes:
      timer:
        name: A timer holds the charge back
        where: software
        shows: {other-point: {yes: 10, no: 90}}
        advise: {do: Show the owner the setting., minutes: 10}

Silent:

    --- catalogue/more.yaml
    causes:
      timer:
        name: A timer holds the charge back
        where: software
        shows: {other-point: {yes: 10, no: 90}}
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
    """Return each cause that no tree lists, on any car."""
    listed = {cause for tree in subject.trees.values() for cause in tree.causes}
    for car in subject.cars if subject.trees else ():
        for cause in car.catalogue.causes.values():
            if cause.id not in listed:
                yield Found(cause.at, f"no tree lists cause `{cause.id}`; give it a share in a tree, or take it out")


RULE = Rule(
    id="unused-cause",
    family="links",
    level=Level.WARNING,
    finds="A cause of the catalogue that is among the causes of no tree.",
    why="It is never weighed and never found, although somebody took the trouble to write its correction.",
    find=find,
    text=__doc__,
    whole=FOLDER,
)
