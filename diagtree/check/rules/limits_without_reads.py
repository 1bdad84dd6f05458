"""Limits, but no reading that they could be held against.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-warm:
        ask: How warm is the inlet?
        place: reception
        minutes: 2
        outcomes: {cool: below 40, warm: otherwise}
        healthy: cool
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      inlet-warm:
        ask: How warm is the inlet?
        place: reception
        minutes: 2
        reads: {rim: degC}
        outcomes: {cool: below 40, warm: otherwise}
        healthy: cool
        source: estimate, common practice
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="limits-without-reads",
    family="reading",
    level=Level.ERROR,
    finds="A test whose outcomes have limits although it has no `reads:`.",
    why="The technician would not be asked for a number, and the limits would never speak.",
    find=None,
    text=__doc__,
)
