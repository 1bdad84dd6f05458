"""The same key written twice.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        minutes: 15
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
    id="duplicate-key",
    family="reading",
    level=Level.ERROR,
    finds="A key that stands a second time in one mapping, or a thing that two files define.",
    why="One of the two would win silently, and perhaps it is the old one.",
    find=None,
    text=__doc__,
)
