"""A limit or a formula that cannot be read.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-warm:
        ask: How warm is the inlet?
        place: reception
        minutes: 2
        reads: {rim: degC}
        outcomes: {cool: below 40 +, warm: otherwise}
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
    id="unreadable-arithmetic",
    family="reading",
    level=Level.ERROR,
    finds="Arithmetic that breaks off, or that uses what is not on the list of what is allowed.",
    why="Without its limit a reading cannot be judged, and the technician would judge by feeling.",
    find=None,
    text=__doc__,
)
