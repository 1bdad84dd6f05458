"""A cause that does not exist.

Fires:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: sensor-resistance}
      sensor-resistance:
        then: {normal: {refer: the maker's helpline}, open: {conclude: sensor-opened}}

Silent:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: sensor-resistance}
      sensor-resistance:
        then: {normal: {refer: the maker's helpline}, open: {conclude: sensor-open}}
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="unknown-cause",
    family="links",
    level=Level.ERROR,
    finds="A tree that lists or concludes a cause which the catalogue, or its own list, does not have.",
    why="The walk would end in a name without a correction, an advice or a price.",
    find=None,
    text=__doc__,
)
