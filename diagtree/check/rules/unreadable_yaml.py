"""A text that is no YAML: a colon, a bracket or a quotation mark is amiss.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes
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
    id="unreadable-yaml",
    family="reading",
    level=Level.ERROR,
    finds="A file that the parser cannot read from here on.",
    why="Nothing that stands in the file is known; no walk that rests on it can begin.",
    find=None,
    text=__doc__,
)
