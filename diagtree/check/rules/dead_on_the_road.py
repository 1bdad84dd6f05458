"""A test on the road that needs a dead car.

Fires:

    --- catalogue/more.yaml
    tests:
      road-warning:
        ask: Does the warning come on the road?
        place: road
        minutes: 1
        needs: {power: dead}
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
    id="dead-on-the-road",
    family="safety",
    level=Level.ERROR,
    finds="A test at the place `road` that needs `power: dead`.",
    why="On the road the car is live: the test cannot be done, or not safely.",
    find=None,
    text=__doc__,
)
