"""A place from which no answers lead to an ending.

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
        then: {yes: {conclude: point-fault}, no: sensor-resistance}
      sensor-resistance:
        then: {normal: sensor-again, open: sensor-again}
      sensor-again:
        test: sensor-resistance
        then: {normal: sensor-resistance, open: sensor-resistance}

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

from diagtree.check.loops import dead_ends
from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level


def find(subject: Subject) -> Iterator[Found]:
    """Return where walks are caught: steps without a way on, and of each loop without a way out its first step."""
    for one in subject.graphs():
        for step_id, around in dead_ends(one.flow):
            yield Found(
                one.tree.steps[step_id].at,
                f"from step `{step_id}` on, no answers lead to an ending; give each outcome a branch, "
                "and one of them an ending",
                one.witnesses.around(around) if around else one.witnesses.to_step(step_id),
            )


RULE = Rule(
    id="dead-end",
    family="graph",
    level=Level.ERROR,
    finds="A step without any way on, or a loop without a way out.",
    why="The car stands in the bay and the tool has nothing more to say about it.",
    find=find,
    text=__doc__,
    follows=True,
)
