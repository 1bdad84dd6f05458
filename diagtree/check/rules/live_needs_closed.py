"""A live test behind a cover that may not be off a live car.

Fires:

    --- catalogue/more.yaml
    tests:
      lamp-lit:
        ask: Is the lamp in the inlet lit?
        place: bay
        minutes: 1
        needs: {power: live, open: [inlet-connector]}
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
    id="live-needs-closed",
    family="safety",
    level=Level.ERROR,
    finds=(
        "A test or correction that needs the car live with an access open that is `power: dead` or `refit-"
        "before-live`."
    ),
    why="The technician would reach behind that cover on a live car.",
    find=None,
    text=__doc__,
)
