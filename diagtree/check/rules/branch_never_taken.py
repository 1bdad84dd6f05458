"""A branch that none of the listed causes allows, given the answers before it.

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
        then: {yes: sensor-resistance, no: {conclude: sensor-open}}
      sensor-resistance:
        then: {normal: {conclude: point-fault}, open: {conclude: sensor-open}}

Silent:

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
        then: {normal: {conclude: point-fault}, open: {conclude: sensor-open}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.shown import told_once
from diagtree.check.subject import Car, Subject
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import NOT_DONE


def find(subject: Subject) -> Iterator[Found]:
    """Return each branch that no listed cause takes although some come to its step. Dangers are asked in any case."""
    yield from told_once(subject, _on_cars(subject))


def _on_cars(subject: Subject) -> Iterator[tuple[Car, Found]]:
    for one in subject.trees_on_cars():
        for step_id in one.flow.order:
            stop = one.flow.test(step_id).stop
            for outcome in one.flow.branches[step_id] if one.flow.alive[step_id] else ():
                if outcome == NOT_DONE or outcome in stop or one.flow.taking(step_id, outcome):
                    continue
                coming = one.flow.names(one.flow.alive[step_id])
                yield one.car, Found(
                    one.tree.steps[step_id].then_at[outcome],
                    f"no listed cause shows `{outcome}` at step `{step_id}` after the answers that lead there "
                    f"(causes that come there: {_named(coming)}); correct `shows`, or put the test elsewhere",
                    one.witnesses.to_branch(step_id, outcome),
                )


def _named(causes: tuple[str, ...], most: int = 3) -> str:
    more = f" and {len(causes) - most} more" if len(causes) > most else ""
    return ", ".join(f"`{cause}`" for cause in causes[:most]) + more


RULE = Rule(
    id="branch-never-taken",
    family="meaning",
    level=Level.WARNING,
    finds="A branch that no listed cause allows (a stated per cent above 0) given the answers before it.",
    why="Only a wrong answer leads there: the test is wasted on this outcome, or a cause lacks what it shows.",
    find=find,
    text=__doc__,
    follows=True,
)
