"""A YAML tag.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: !!int 1
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
    id="tag",
    family="reading",
    level=Level.ERROR,
    finds="A word that begins with `!` before a value.",
    why="A tag could make the file run code or mean something else than a person reads in it.",
    find=None,
    text=__doc__,
)
