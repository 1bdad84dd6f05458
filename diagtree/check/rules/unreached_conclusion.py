"""A cause that is concluded only at steps to which no answers lead.

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

from diagtree.check.concluded import concluded, leads_nowhere
from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level


def find(subject: Subject) -> Iterator[Found]:
    """Return each listed cause whose conclusions all stand at unreached steps, at the first of them."""
    for one in subject.graphs():
        if leads_nowhere(one.tree):
            continue
        reached = concluded(one.tree, one.flow.branches)
        for cause, (step_id, outcome) in concluded(one.tree, one.tree.steps).items():
            if cause in one.tree.causes and cause not in reached and one.flow.branches:
                yield Found(
                    one.tree.steps[step_id].then_at[outcome],
                    f"no answers lead to `conclude: {cause}`: it stands only at steps that nothing reaches; "
                    f"lead a branch to step `{step_id}`",
                )


RULE = Rule(
    id="unreached-conclusion",
    family="graph",
    level=Level.ERROR,
    finds="A cause of the list whose every conclusion stands at a step that no answers reach.",
    why="Whoever wrote the tree knew how to find this cause, and no car that has it is ever told so.",
    find=find,
    text=__doc__,
    follows=True,
)
