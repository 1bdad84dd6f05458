"""A key that is a list or a mapping.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        [attended, minutes]: 1
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
    id="key-not-text",
    family="reading",
    level=Level.ERROR,
    finds="A key that is more than one word or text.",
    why="Nothing can refer to it; mostly a bracket or a question mark slipped in.",
    find=None,
    text=__doc__,
)
