"""Trees that hand a car over to each other in a ring.

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
        then: {normal: {hand-over: other}, open: {conclude: sensor-open}}
    --- other.yaml
    diagtree: 1
    tree: other
    title: DC charging fails
    revision: 1
    causes: {sensor-open: 60, something-else: 40}
    start: sensor-resistance
    steps:
      sensor-resistance:
        then: {normal: {hand-over: tree}, open: {conclude: sensor-open}}

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
        then: {normal: {hand-over: other}, open: {conclude: sensor-open}}
    --- other.yaml
    diagtree: 1
    tree: other
    title: DC charging fails
    revision: 1
    causes: {sensor-open: 60, something-else: 40}
    start: sensor-resistance
    steps:
      sensor-resistance:
        then: {normal: {refer: the maker's helpline}, open: {conclude: sensor-open}}
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping

from diagtree.check.concluded import handed_over
from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject, TreeOnCar
from diagtree.knowledge.place import Level


def find(subject: Subject) -> Iterator[Found]:
    """Return each hand-over that leads back to its own tree, at its branch, with the shortest ring through it."""
    walked: dict[str, TreeOnCar] = {}
    for one in subject.trees_on_cars():
        walked.setdefault(one.tree.id, one)
    handed = {tree: handed_over(one.tree, one.flow.branches) for tree, one in walked.items()}
    onward = {tree: [name for name, _, _ in found if name in walked] for tree, found in handed.items()}
    for tree, one in walked.items():
        for name, step_id, outcome in handed[tree]:
            ring = _back(onward, name, tree)
            if ring:
                yield Found(
                    one.tree.steps[step_id].then_at[outcome],
                    f"tree `{tree}` hands over to `{name}`, which leads back here: {' > '.join((tree, *ring))}; "
                    "let one of them end otherwise",
                    one.witnesses.to_branch(step_id, outcome),
                )


def _back(onward: Mapping[str, list[str]], start: str, wanted: str) -> tuple[str, ...]:
    """Return the trees on the shortest way from `start` to `wanted`, both named; () if there is none."""
    before: dict[str, str] = {start: ""}
    waiting = deque([start])
    while waiting:
        here = waiting.popleft()
        if here == wanted:
            ring = [here]
            while before[ring[-1]]:
                ring.append(before[ring[-1]])
            return tuple(reversed(ring))
        for name in onward.get(here, ()):
            if name not in before:
                before[name] = here
                waiting.append(name)
    return ()


RULE = Rule(
    id="hand-over-ring",
    family="graph",
    level=Level.ERROR,
    finds="A tree that hands over to another which hands the car back, at once or by way of others.",
    why="The answers are kept over a hand-over: the same answers send the car back and forth for ever.",
    find=find,
    text=__doc__,
    follows=True,
)
