"""A number that cannot be read, or that lies outside its range.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1 min
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
    id="bad-number",
    family="reading",
    level=Level.ERROR,
    finds="A number with a comma, a unit or a word in it, or one below or above what can be.",
    why="Minutes and per cents decide which test comes first; a misread one sends the technician the long way round.",
    find=None,
    text=__doc__,
)
