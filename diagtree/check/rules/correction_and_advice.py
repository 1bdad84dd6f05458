"""A cause with both a correction and advice.

Fires:

    --- catalogue/more.yaml
    causes:
      loose-bracket:
        name: Inlet bracket loose
        where: inlet
        correction: {do: Tighten the bracket., minutes: 10, needs: {power: any}}
        proof: {charge: ac, minutes: 20}
        advise: {do: Have it tightened., minutes: 5}

Silent:

    --- catalogue/more.yaml
    causes:
      loose-bracket:
        name: Inlet bracket loose
        where: inlet
        correction: {do: Tighten the bracket., minutes: 10, needs: {power: any}}
        proof: {charge: ac, minutes: 20}
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="correction-and-advice",
    family="meaning",
    level=Level.ERROR,
    finds="A cause that this house repairs and does not repair.",
    why="Whether a part is ordered would depend on which of the two is read first.",
    find=None,
    text=__doc__,
)
