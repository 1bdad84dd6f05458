"""Rules that wait until the steps of a tree can be read whole.

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
        thn: {yes: {conclude: point-fault}, no: sensor-resistance}
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

from diagtree.check.rule import Found, Rule, rules
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level


def find(subject: Subject) -> Iterator[Found]:
    """Return each tree that could not be read whole, with the number of rules that pass over it."""
    for tree, at in subject.torn.items():
        waiting = sum(rule.follows or not rule.can_tell((f"{tree}.yaml",)) for rule in rules())
        yield Found(at, f"{waiting} rules wait until the mistakes in the steps of tree `{tree}` are mended")


RULE = Rule(
    id="rules-wait",
    family="reading",
    level=Level.REMARK,
    finds="A tree whose list of causes, start or branches could not be read whole.",
    why="What lies behind a misspelt `then:` only seems to be out of reach: one mistake would be told a hundred times.",
    find=find,
    text=__doc__,
)
