"""A word that is none of those the format has here.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: desk
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
    id="unknown-word",
    family="reading",
    level=Level.ERROR,
    finds="A word for a place, a power, a qualification, a kind of step or an ending that does not exist.",
    why="`power: deda` would be no protection at all; the word must be one that the walk knows.",
    find=None,
    text=__doc__,
)
