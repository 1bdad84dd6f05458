"""A comment that allows what is no longer there.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        source: estimate, common practice  # check: allow cut-at-comma because the two are one movement

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
    id="stale-suppression",
    family="reading",
    level=Level.WARNING,
    finds="A comment that allows a finding which its line does not have.",
    why="The next mistake of that kind on this line would pass unseen.",
    find=None,
    text=__doc__,
)
