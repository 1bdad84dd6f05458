"""An outcome from which no branch leads on.

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
        then: {open: {conclude: sensor-open}}

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
    id="outcome-without-branch",
    family="links",
    level=Level.ERROR,
    finds="A step that says nothing about one of its test's outcomes.",
    why="The technician who gets this very result is left alone with it.",
    find=None,
    text=__doc__,
)
