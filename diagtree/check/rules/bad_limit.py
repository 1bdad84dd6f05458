"""An outcome of a reading without a limit that can be read.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-warm:
        ask: How warm is the inlet?
        place: reception
        minutes: 2
        reads: {rim: degC}
        outcomes: {cool: under 40, warm: otherwise}
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
    id="bad-limit",
    family="reading",
    level=Level.ERROR,
    finds="A limit that is not written `below LIMIT`, or an `otherwise` that is not the last.",
    why="With limits in any other form gaps and overlaps can be written: a reading with no outcome, or with two.",
    find=None,
    text=__doc__,
)
