"""A file with nothing in it.

Fires:

    --- catalogue/more.yaml
    # to be written

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
    id="empty-file",
    family="reading",
    level=Level.ERROR,
    finds="A knowledge file that holds nothing but blanks and remarks.",
    why="It was begun and forgotten, or its text was lost in saving.",
    find=None,
    text=__doc__,
)
