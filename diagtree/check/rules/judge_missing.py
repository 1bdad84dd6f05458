"""Several readings, and none is said to be the one that is judged.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-warm:
        ask: How warm is the inlet?
        place: reception
        minutes: 2
        reads: {rim: degC, air: degC}
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
    id="judge-missing",
    family="reading",
    level=Level.ERROR,
    finds="A test with more than one reading and no `judge:`.",
    why="Which of the numbers decides would be a matter of chance.",
    find=None,
    text=__doc__,
)
