"""A sentence that its own comma cut into two entries of a list.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        how: [Open the car's app, look for departure times.]
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
        how: ["Open the car's app, look for departure times."]
        outcomes: [no, yes]
        healthy: no
        source: estimate, common practice
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="cut-at-comma",
    family="reading",
    level=Level.WARNING,
    finds="An entry of a list between brackets that begins in mid-sentence.",
    why="A caution that is torn in two is read as two, and neither half says what to do.",
    find=None,
    text=__doc__,
)
