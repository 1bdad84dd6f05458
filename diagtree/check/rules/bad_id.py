"""A name with blanks or signs that a name cannot have.

Fires:

    --- catalogue/more.yaml
    tests:
      timer set:
        ask: Is a charging timer set?
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
    id="bad-id",
    family="reading",
    level=Level.ERROR,
    finds="A name of a step, test, outcome, access or reading that is not made of letters, digits and hyphens.",
    why="Names are typed at the bench and in answers files; one with a blank cannot be.",
    find=None,
    text=__doc__,
)
