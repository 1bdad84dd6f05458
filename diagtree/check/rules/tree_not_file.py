"""A tree that bears another name than its file.

Fires:

    --- tree.yaml
    diagtree: 1
    tree: dc-charging-fails
    title: AC charging fails
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: sensor-resistance}
      sensor-resistance:
        then: {normal: {refer: the maker's helpline}, open: {conclude: sensor-open}}

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
    id="tree-not-file",
    family="reading",
    level=Level.ERROR,
    finds="A `tree:` that is not the name of the file that it stands in.",
    why="It was copied and not renamed: what is asked for by name would be another tree than what is opened.",
    find=None,
    text=__doc__,
)
