"""Shares of a tree that do not add up to about 100.

Fires:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 40, sensor-open: 30, something-else: 3}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: sensor-resistance}
      sensor-resistance:
        then: {normal: {refer: the maker's helpline}, open: {conclude: sensor-open}}

Silent:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: sensor-resistance}
      sensor-resistance:
        then: {normal: {refer: the maker's helpline}, open: {conclude: sensor-open}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.shown import misread
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level

_ABOUT = 0.5  # shares are written in whole or half cases


def find(subject: Subject) -> Iterator[Found]:
    """Return each tree whose shares add up to something that is not about 100, at its first cause."""
    for tree in subject.trees.values():
        total = sum(tree.causes.values())
        if total > 0 and abs(total - 100) > _ABOUT and not misread(subject, tree.causes_at.values()):
            yield Found(
                next(iter(tree.causes_at.values())),
                f"the shares of tree `{tree.id}` add up to {total:g}, not 100; write each in cases per 100",
            )


RULE = Rule(
    id="shares-not-100",
    family="meaning",
    level=Level.WARNING,
    finds="Shares that do not add up to 100 cases, give or take 0.5.",
    why="A cause was forgotten or mistyped, and every chance that the walk shows is off by as much.",
    find=find,
    text=__doc__,
)
