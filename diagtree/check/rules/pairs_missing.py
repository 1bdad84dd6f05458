"""An absence of voltage without saying between which points.

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
            - {kind: secure}
            - {kind: wait, minutes: vehicle.safety.wait}
            - {kind: prove-tester}
            - {kind: absence, below: 30}
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
    id="pairs-missing",
    family="safety",
    level=Level.ERROR,
    finds="An `absence` step without `between:`.",
    why="Whoever measures between two points of their own choice may miss the live one.",
    find=None,
    text=__doc__,
)
