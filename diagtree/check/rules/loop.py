"""A way through the tree that comes back to a step it has left.

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
        then: {normal: other-point, open: {conclude: sensor-open}}

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

from diagtree.check.loops import loops
from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level

_MOST_NAMED = 12


def find(subject: Subject) -> Iterator[Found]:
    """Return each loop at the branch that leads back, with the steps it runs through."""
    for one in subject.graphs():
        for around in loops(one.flow):
            last = one.tree.steps[around[-1].step]
            names = [answer.step for answer in around]
            if len(names) > _MOST_NAMED:
                names = [*names[: _MOST_NAMED // 2], "...", *names[-_MOST_NAMED // 2 :]]
            yield Found(
                last.then_at.get(around[-1].outcome, last.at),
                f"the walk comes back to step `{names[0]}`: {' > '.join([*names, names[0]])}; "
                f"lead `{around[-1].outcome}` of step `{last.id}` elsewhere",
                one.witnesses.around(around),
            )


RULE = Rule(
    id="loop",
    family="graph",
    level=Level.ERROR,
    finds="Answers that lead back to a step where the walk has been.",
    why="The answer there is known already: the walk stands still, and neither price nor plan can be computed.",
    find=find,
    text=__doc__,
    follows=True,
)
