"""Work on the car that does not say whether it must be dead.

Fires:

    --- catalogue/more.yaml
    tests:
      lamp-lit:
        ask: Is the lamp in the inlet lit?
        place: bay
        minutes: 1
        needs: {tools: [lamp]}
        outcomes: [yes, no]
        healthy: yes
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      lamp-lit:
        ask: Is the lamp in the inlet lit?
        place: bay
        minutes: 1
        needs: {power: live}
        outcomes: [yes, no]
        healthy: yes
        source: estimate, common practice
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="power-not-written",
    family="safety",
    level=Level.ERROR,
    finds="A test in the bay, or a correction, without `needs.power`.",
    why="Nobody decided whether the car may be live for it, and somebody will put a hand in.",
    find=None,
    text=__doc__,
)
