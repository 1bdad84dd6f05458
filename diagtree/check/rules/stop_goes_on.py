"""A danger after which the walk goes on.

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
        then: {yes: other-point, no: other-point}
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
    id="stop-goes-on",
    family="safety",
    level=Level.ERROR,
    finds="A branch of a `stop` outcome that leads to another step.",
    why="The next test would be made at a car that burns, or that has given somebody a shock.",
    find=None,
    text=__doc__,
)
