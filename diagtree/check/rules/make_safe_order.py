"""Making safe that leaves a kind of step out, or brings it too early.

Fires:

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}
    differs:
      procedures:
        make-safe:
          steps:
            - {kind: unplug}
            - {kind: switch-off}
            - {kind: disconnect}
            - {kind: wait, minutes: vehicle.safety.wait}
            - {kind: prove-tester}
            - {kind: absence, between: [DC+ and DC-, DC+ and chassis, DC- and chassis], below: 30}
            - {kind: prove-tester}

Silent:

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}
    differs:
      procedures:
        make-safe:
          steps:
            - {kind: unplug}
            - {kind: switch-off}
            - {kind: disconnect}
            - {kind: secure}
            - {kind: wait, minutes: vehicle.safety.wait}
            - {kind: prove-tester}
            - {kind: absence, between: [DC+ and DC-, DC+ and chassis, DC- and chassis], below: 30}
            - {kind: prove-tester}
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="make-safe-order",
    family="safety",
    level=Level.ERROR,
    finds="A `make-safe` whose steps are not all there, in the order of EN 50110-1.",
    why="A car that was not secured, or whose tester was not proven, would count as dead.",
    find=None,
    text=__doc__,
)
