"""A YAML anchor.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: &question Is a charging timer set?
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
    id="anchor",
    family="reading",
    level=Level.ERROR,
    finds="A word that begins with `&` before a value.",
    why="Anchors serve aliases, which are not allowed: a tree reads the same to a person and to the machine.",
    find=None,
    text=__doc__,
)
