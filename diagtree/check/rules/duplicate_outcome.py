"""An outcome listed twice.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes, no]
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
    id="duplicate-outcome",
    family="reading",
    level=Level.ERROR,
    finds="The same outcome twice in the list of a test.",
    why="One of the two was meant to be another word, and its branch is missing.",
    find=None,
    text=__doc__,
)
