"""An outcome that the test does not have.

Fires:

    --- catalogue/more.yaml
    causes:
      timer:
        name: A timer holds the charge back
        where: software
        shows: {other-point: {yes: 10, never: 90}}
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
    id="unknown-outcome",
    family="links",
    level=Level.ERROR,
    finds="A `healthy`, `stop` or `shows` that names an outcome which is none of the test's.",
    why="The chance would be given to a result that nobody can get.",
    find=None,
    text=__doc__,
)
