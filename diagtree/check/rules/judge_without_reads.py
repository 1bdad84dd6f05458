"""A number is judged that nobody measures.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        judge: rim - 20
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
    id="judge-without-reads",
    family="reading",
    level=Level.ERROR,
    finds="A test with `judge:` or `expected:` but without `reads:`.",
    why="The technician would never be asked for the number that decides.",
    find=None,
    text=__doc__,
)
