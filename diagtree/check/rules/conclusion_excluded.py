"""A cause that is concluded where the answers exclude it.

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
        then: {yes: {conclude: sensor-open}, no: sensor-resistance}
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
from diagtree.check.shown import told_once
from diagtree.check.subject import Car, Subject
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import Conclude


def find(subject: Subject) -> Iterator[Found]:
    """Return each conclusion of a listed cause that never takes this branch, although some cause comes to its step."""
    yield from told_once(subject, _on_cars(subject))


def _on_cars(subject: Subject) -> Iterator[tuple[Car, Found]]:
    for one in subject.trees_on_cars():
        flow = one.flow
        for step_id in flow.order:
            for outcome, target in flow.branches[step_id].items() if flow.alive[step_id] else ():
                bit = flow.bit(target.cause) if isinstance(target, Conclude) else 0
                if not bit or flow.taking(step_id, outcome) & bit or outcome not in one.tree.steps[step_id].then:
                    continue
                assert isinstance(target, Conclude)
                yield one.car, Found(
                    one.tree.steps[step_id].then_at[outcome],
                    f"`conclude: {target.cause}` cannot be right: on every way to `{outcome}` of step `{step_id}` "
                    f"some answer is one that this cause does not show; conclude another, or correct its `shows`",
                    one.witnesses.to_branch(step_id, outcome),
                )


RULE = Rule(
    id="conclusion-excluded",
    family="meaning",
    level=Level.ERROR,
    finds="A cause concluded where, on every path there, the answers exclude it (a stated per cent of 0).",
    why="A part is replaced that, by what the knowledge itself says, cannot be the cause.",
    find=find,
    text=__doc__,
    follows=True,
)
