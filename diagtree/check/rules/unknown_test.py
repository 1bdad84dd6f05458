"""A test that no catalogue file defines.

Fires:

    --- catalogue/more.yaml
    causes:
      timer:
        name: A timer holds the charge back
        where: software
        shows: {other-pont: {yes: 10, no: 90}}
        advise: {do: Show the owner the setting., minutes: 10}

Silent:

    --- catalogue/more.yaml
    causes:
      timer:
        name: A timer holds the charge back
        where: software
        shows: {other-point: {yes: 10, no: 90}}
        advise: {do: Show the owner the setting., minutes: 10}
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="unknown-test",
    family="links",
    level=Level.ERROR,
    finds="A step or a `shows` that names a test which does not exist.",
    why="There would be nothing to ask, and what the cause shows would count for nothing.",
    find=None,
    text=__doc__,
)
