"""A cause of the list whose share is 0.

Fires:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 70, sensor-open: 0, something-else: 30}
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
    causes: {point-fault: 69, sensor-open: 1, something-else: 30}
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


def find(subject: Subject) -> Iterator[Found]:
    """Return each share of 0, unless all are: the reader tells that."""
    for tree in subject.trees.values():
        for cause, share in tree.causes.items() if any(tree.causes.values()) else ():
            if share == 0 and not misread(subject, [tree.causes_at[cause]]):
                message = f"`{cause}` has a share of 0; write how many of 100 cases it is, or take it off the list"
                yield Found(tree.causes_at[cause], message)


RULE = Rule(
    id="share-zero",
    family="meaning",
    level=Level.WARNING,
    finds="A listed cause with a share of 0 cases per 100.",
    why="No answers whatever make such a cause likelier than 0: it is on the list and never suspected.",
    find=find,
    text=__doc__,
)
