"""A list, a mapping or a text where another of the three belongs.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: [Is a charging timer set?]
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
    id="wrong-type",
    family="reading",
    level=Level.ERROR,
    finds="A value of the wrong kind: a list where one text belongs, a text where a mapping belongs.",
    why="What was meant cannot be known, so nothing of it would be shown in the bay.",
    find=None,
    text=__doc__,
)
