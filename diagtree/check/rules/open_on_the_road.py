"""A test on the road with something open.

Fires:

    --- catalogue/more.yaml
    tests:
      road-warning:
        ask: Does the warning come on the road?
        place: road
        minutes: 1
        needs: {power: live, open: [undertray]}
        outcomes: [yes, no]
        healthy: yes
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      road-warning:
        ask: Does the warning come on the road?
        place: road
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
    id="open-on-the-road",
    family="safety",
    level=Level.ERROR,
    finds="A test at the place `road` that needs an access open.",
    why="A car is not driven with covers off.",
    find=None,
    text=__doc__,
)
