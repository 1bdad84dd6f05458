"""A character that no text file holds.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?\x07
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
    id="unreadable-character",
    family="reading",
    level=Level.ERROR,
    finds="A control character, mostly pasted from another program.",
    why="It cannot be seen in most editors, and the file cannot be read.",
    find=None,
    text=__doc__,
)
