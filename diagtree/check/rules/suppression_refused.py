"""A comment that allows what cannot be allowed.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: off  # check: allow unknown-outcome because the car sleeps
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
    id="suppression-refused",
    family="reading",
    level=Level.WARNING,
    finds="A comment that allows an error of safety, or one that leaves the knowledge unusable.",
    why="A written excuse makes nobody safe, and a walk cannot begin on knowledge with such an error.",
    find=None,
    text=__doc__,
)
