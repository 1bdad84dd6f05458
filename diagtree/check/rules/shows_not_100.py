"""Per cents of a test that do not sum to 100.

Fires:

    --- catalogue/more.yaml
    causes:
      timer:
        name: A timer holds the charge back
        where: software
        shows: {other-point: {yes: 10, no: 80}}
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
    id="shows-not-100",
    family="meaning",
    level=Level.ERROR,
    finds="A cause whose per cents over the outcomes of one test sum to more or less than 100.",
    why="The cause would count as likelier, or less likely, than anybody meant.",
    find=None,
    text=__doc__,
)
