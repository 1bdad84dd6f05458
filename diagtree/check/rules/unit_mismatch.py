"""Units that cannot meet in one sum.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-warm:
        ask: How warm is the inlet?
        place: reception
        minutes: 2
        reads: {rim: degC, air: ohm}
        judge: rim - air
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
        reads: {rim: degC, air: degC}
        judge: rim - air
        outcomes: {cool: below 40, warm: otherwise}
        healthy: cool
        source: estimate, common practice
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="unit-mismatch",
    family="reading",
    level=Level.ERROR,
    finds="Arithmetic that adds, subtracts or compares quantities of different kinds.",
    why="Degrees less ohms is a number all the same, and it would decide about a part.",
    find=None,
    text=__doc__,
)
