"""A comment that allows a finding without a reason.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        mind: [Release the catch, pull the plug.]  # check: allow cut-at-comma
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
        mind: [Release the catch, pull the plug.]  # check: allow cut-at-comma because the two are one movement
        source: estimate, common practice
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="suppression-without-reason",
    family="reading",
    level=Level.WARNING,
    finds="A comment that allows a finding and does not say why.",
    why="Nobody can tell later whether the exception still holds, so it is not taken.",
    find=None,
    text=__doc__,
)
