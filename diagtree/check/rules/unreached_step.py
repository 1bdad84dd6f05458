"""A step that no answers reach.

Fires:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: {refer: the maker's helpline}}
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

from diagtree.check.concluded import leads_nowhere
from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level


def find(subject: Subject) -> Iterator[Found]:
    """Return each step that no branch leads to from the start, on any car."""
    for one in subject.graphs():
        reached = one.flow.branches
        for step in one.tree.steps.values() if reached and not leads_nowhere(one.tree) else ():
            if step.id not in reached:
                yield Found(
                    step.at,
                    f"no answers lead to step `{step.id}`; lead a branch to it, or take it out",
                )


RULE = Rule(
    id="unreached-step",
    family="graph",
    level=Level.ERROR,
    finds="A step that no series of answers leads to from the start.",
    why="The test that somebody thought necessary is never made, and the cause it shows is never found.",
    find=find,
    text=__doc__,
    follows=True,
)
