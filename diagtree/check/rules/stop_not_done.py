"""A way past a question for a danger.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-looks-burnt:
        ask: Is the inlet burnt?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        stop: [yes]
        mind: [Do not plug in.]
        source: estimate, common practice

    --- second.yaml
    diagtree: 1
    tree: second
    title: Charging stops
    causes: {point-fault: 60, something-else: 40}
    start: inlet-looks-burnt
    steps:
      inlet-looks-burnt:
        then: {yes: {refer: a high-voltage technician}, no: other-point, not-done: other-point}
      other-point:
        then: {yes: {conclude: point-fault}, no: {refer: the maker's helpline}}

Silent:

    --- catalogue/more.yaml
    tests:
      inlet-looks-burnt:
        ask: Is the inlet burnt?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        stop: [yes]
        mind: [Do not plug in.]
        source: estimate, common practice

    --- second.yaml
    diagtree: 1
    tree: second
    title: Charging stops
    causes: {point-fault: 60, something-else: 40}
    start: inlet-looks-burnt
    steps:
      inlet-looks-burnt:
        then: {yes: {refer: a high-voltage technician}, no: other-point}
      other-point:
        then: {yes: {conclude: point-fault}, no: {refer: the maker's helpline}}
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="stop-not-done",
    family="safety",
    level=Level.WARNING,
    finds="A `not-done` branch at a step that asks for a danger.",
    why="Such a step is never skipped: the branch is never taken, and its author believes that it is.",
    find=None,
    text=__doc__,
)
