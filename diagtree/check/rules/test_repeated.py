"""A path that comes to the same test a second time.

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
        then: {normal: point-again, open: {conclude: sensor-open}}
      point-again:
        test: other-point
        then: {yes: {conclude: point-fault}, no: {refer: the maker's helpline}}

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

from diagtree.check.repeats import repeats, way_between
from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level

_MOST_SHOWN = 30  # the way between is looked for; thousands of repeats have one reason


def find(subject: Subject) -> Iterator[Found]:
    """Return each step whose test has been answered on some path there."""
    for one in subject.graphs():
        for number, step_id in enumerate(repeats(one.flow)):
            step = one.tree.steps[step_id]
            between = way_between(one.flow, step_id) if number < _MOST_SHOWN else ()
            earlier = f" at step `{between[0].step}`" if between else ""
            yield Found(
                step.at,
                f"test `{step.test}` of step `{step_id}` was answered before{earlier} on the way here; "
                "use what it showed then: lead that branch elsewhere",
                one.witnesses.around(between) if between else None,
            )


RULE = Rule(
    id="test-repeated",
    family="meaning",
    level=Level.ERROR,
    finds="A test that comes twice on a path.",
    why="The walk keeps the first answer and never asks again, so the second step cannot do what its author meant.",
    find=find,
    text=__doc__,
    follows=True,
)
