"""A tree without a share for causes that are not on its list.

Fires:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 60, sensor-open: 40}
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
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import SOMETHING_ELSE


def find(subject: Subject) -> Iterator[Found]:
    """Return each tree that lists causes, but not `something-else`, at its first cause."""
    for tree in subject.trees.values():
        if tree.causes_at and SOMETHING_ELSE not in tree.causes:
            yield Found(
                next(iter(tree.causes_at.values())),
                f"tree `{tree.id}` leaves no room for a cause that is not on its list; "
                f"add `{SOMETHING_ELSE}` with its share",
            )


RULE = Rule(
    id="something-else-missing",
    family="meaning",
    level=Level.WARNING,
    finds="A list of causes without `something-else`.",
    why="A cause that nobody thought of is then taken for one of the list, and its part is replaced.",
    find=find,
    text=__doc__,
)
