"""A name in arithmetic that is no reading.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-warm:
        ask: How warm is the inlet?
        place: reception
        minutes: 2
        reads: {rim: degC}
        outcomes: {cool: below 40 + ambient, warm: otherwise}
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
    id="unknown-name",
    family="reading",
    level=Level.ERROR,
    finds="A limit or formula that uses a name which the test does not read and the car does not have.",
    why="The limit could not be computed when the reading is there.",
    find=None,
    text=__doc__,
)
