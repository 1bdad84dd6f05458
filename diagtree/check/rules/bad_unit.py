"""A unit that does not exist.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-warm:
        ask: How warm is the inlet?
        place: reception
        minutes: 2
        reads: {rim: celsius-ish}
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
    id="bad-unit",
    family="reading",
    level=Level.ERROR,
    finds="A unit of a reading or of a meter that physics does not know.",
    why="A reading in a unit nobody knows cannot be held against a limit.",
    find=None,
    text=__doc__,
)
