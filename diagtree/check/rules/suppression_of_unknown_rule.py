"""A comment that allows a rule which does not exist.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        mind: [Release the catch, pull the plug.]  # check: allow cut-at-coma because the two are one movement
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
    id="suppression-of-unknown-rule",
    family="reading",
    level=Level.WARNING,
    finds="A comment that allows a rule by a name that no rule has.",
    why="The author believes the finding settled while it stands, or means another rule.",
    find=None,
    text=__doc__,
)
