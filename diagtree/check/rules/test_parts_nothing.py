"""A test that cannot tell any of the causes apart that may still be there.

Fires:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 40, cable-fault: 60}
    start: sensor-resistance
    steps:
      sensor-resistance:
        then: {normal: other-point, open: {refer: the maker's helpline}}
      other-point:
        then: {yes: {conclude: cable-fault}, no: {conclude: point-fault}}
    --- catalogue/more.yaml
    causes:
      cable-fault:
        name: Fault in the owner's cable
        where: outside
        shows: {other-point: {yes: 5, no: 95}}
        advise: {do: Replace the cable., minutes: 5}

Silent:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 40, cable-fault: 60}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: {conclude: cable-fault}}
    --- catalogue/more.yaml
    causes:
      cable-fault:
        name: Fault in the owner's cable
        where: outside
        shows: {other-point: {yes: 5, no: 95}}
        advise: {do: Replace the cable., minutes: 5}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.flow import Flow
from diagtree.check.rule import Found, Rule
from diagtree.check.shown import told_once
from diagtree.check.subject import Car, Subject
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import SOMETHING_ELSE


def find(subject: Subject) -> Iterator[Found]:
    """Return each reached step at which all causes of every path show the test's outcomes equally often.

    Silent where something else may still be told from the one cause left, and for tests that ask for a danger.
    """
    yield from told_once(subject, _on_cars(subject))


def _on_cars(subject: Subject) -> Iterator[tuple[Car, Found]]:
    for one in subject.trees_on_cars():
        for step_id in one.flow.order:
            if _parts_nothing(one.flow, step_id):
                alive = one.flow.names(one.flow.alive[step_id])
                what = f"only `{alive[0]}` is left" if len(alive) == 1 else "it shows the same for all that is left"
                yield one.car, Found(
                    one.tree.steps[step_id].at,
                    f"step `{step_id}` parts no causes: {what} after the answers that lead there; "
                    "put the test earlier, or leave it out",
                    one.witnesses.to_step(step_id),
                )


def _parts_nothing(flow: Flow, step_id: str) -> bool:
    test, alive = flow.test(step_id), flow.alive[step_id]
    if not alive or test.stop:
        return False
    if flow.pairs is None:  # very many causes: said only where no two that come here, on whatever paths, differ
        together = any(alive & ~group == 0 for group in flow.groups(test))
        return together and (SOMETHING_ELSE not in flow.tree.causes or alive & (alive - 1) != 0)
    pairs = flow.pairs[step_id]
    some_two = pairs & ~flow.with_itself != 0
    return pairs & ~flow.alike(test) == 0 and (some_two or SOMETHING_ELSE not in flow.tree.causes)


RULE = Rule(
    id="test-parts-nothing",
    family="meaning",
    level=Level.WARNING,
    finds="A test that shows its outcomes equally often for all causes that the answers before it leave.",
    why="It costs its minutes and leaves every cause exactly as likely as it was.",
    find=find,
    text=__doc__,
    follows=True,
)
