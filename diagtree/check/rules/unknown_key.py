"""A key that the format does not know.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        mnid: [Touch nothing.]
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
        mind: [Touch nothing.]
        source: estimate, common practice
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="unknown-key",
    family="reading",
    level=Level.ERROR,
    finds="A key that nothing reads: misspelt, at the wrong depth, or invented.",
    why="A caution under `mnid:` is never shown; its author believes that it is.",
    find=None,
    text=__doc__,
)
