"""A YAML merge key.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        <<: {attended: 1}
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
    id="merge-key",
    family="reading",
    level=Level.ERROR,
    finds="The key `<<`.",
    why="What a test needs would stand somewhere else, unseen by whoever checks it for danger.",
    find=None,
    text=__doc__,
)
