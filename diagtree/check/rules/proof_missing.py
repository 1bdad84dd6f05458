"""A correction without a proof of the fix.

Fires:

    --- catalogue/more.yaml
    causes:
      loose-bracket:
        name: Inlet bracket loose
        where: inlet
        correction: {do: Tighten the bracket., minutes: 10, needs: {power: any}}

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
    id="proof-missing",
    family="meaning",
    level=Level.ERROR,
    finds="A cause with a correction and no charge that shows that the complaint is gone.",
    why="The car would go back unproven, and come back.",
    find=None,
    text=__doc__,
)
