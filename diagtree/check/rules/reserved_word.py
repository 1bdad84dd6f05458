"""`something-else` or `not-done` used for something of one's own.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes, not-done]
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
    id="reserved-word",
    family="reading",
    level=Level.ERROR,
    finds="A word of the format that is defined, listed or concluded as if it were free.",
    why="`something-else` means that no listed cause fits; concluding it would tell the owner nothing.",
    find=None,
    text=__doc__,
)
