"""A text that must say something is empty.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: ""
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
    id="empty-text",
    family="reading",
    level=Level.ERROR,
    finds="A key with nothing behind it where people need words.",
    why="The technician would stand before an empty line and guess.",
    find=None,
    text=__doc__,
)
