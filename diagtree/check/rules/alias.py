"""A YAML alias.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: &question Is a charging timer set?
        how: *question
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
    id="alias",
    family="reading",
    level=Level.ERROR,
    finds="A word that begins with `*` in place of a value.",
    why="Whoever reads the tree would have to search for what stands here, and a change there would change this too.",
    find=None,
    text=__doc__,
)
