"""A cause that nobody would do anything about.

Fires:

    --- catalogue/more.yaml
    causes:
      timer:
        name: A timer holds the charge back
        where: software
        shows: {other-point: {yes: 10, no: 90}}

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
    id="no-correction",
    family="meaning",
    level=Level.ERROR,
    finds="A cause with neither a correction nor advice.",
    why="The walk would find it, and then stop without a repair or a word for the owner.",
    find=None,
    text=__doc__,
)
