"""A made-up walk breaks a law: it stands still, never ends, shows a dead-only act on a live car, or stops the tool.

The first two are a tree's mistakes. The others are mistakes of the tool itself and should be reported with the witness.

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

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="walk-breaks-law",
    family="walks",
    level=Level.ERROR,
    finds="A walk that stands still, does not end, endangers somebody or stops the tool (`check --walks`).",
    why="A technician would stand before the car and not get on, or worse, touch what is live.",
    find=None,
    text=__doc__,
)
