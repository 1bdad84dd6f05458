"""A step whose outcomes all lead to the same place.

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
        then: {yes: sensor-resistance, no: sensor-resistance}
      sensor-resistance:
        then: {normal: {conclude: point-fault}, open: {conclude: sensor-open}}

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


def find(subject: Subject) -> Iterator[Found]:
    """Return each reached step all of whose listed outcomes, two at least, have a branch to one and the same place."""
    for one in subject.graphs():
        for step_id in one.flow.order:
            step, outcomes = one.tree.steps[step_id], one.flow.test(step_id).outcome_ids()
            targets = [step.then[outcome] for outcome in outcomes if outcome in step.then]
            if len(targets) == len(outcomes) > 1 and all(target == targets[0] for target in targets[1:]):
                yield Found(
                    step.at,
                    f"whatever `{step.test}` shows, step `{step_id}` leads to the same place; "
                    "let its outcomes part, or leave the test out",
                    one.witnesses.to_step(step_id),
                )


RULE = Rule(
    id="test-without-effect",
    family="meaning",
    level=Level.WARNING,
    finds="A test whose outcomes all lead to the same place.",
    why="It costs its minutes, and perhaps an hour of stripping, and changes nothing.",
    find=find,
    text=__doc__,
    follows=True,
)
