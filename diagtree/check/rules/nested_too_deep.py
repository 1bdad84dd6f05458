"""Brackets within brackets without end.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask:
          [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[
          [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[
          ]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]
          ]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]
        how: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        source: estimate, common practice
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="nested-too-deep",
    family="reading",
    level=Level.ERROR,
    finds="A value nested more than 60 levels deep.",
    why="No knowledge needs more than seven; such a file is broken, or meant to break something.",
    find=None,
    text=__doc__,
)
