"""A pole whose voltage to another pole or to the chassis is never measured.

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
            - {kind: absence, between: [DC+ and DC-, DC+ and chassis], below: 30}
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
    id="absence-pairs-missing",
    family="safety",
    level=Level.WARNING,
    finds="An `absence` step whose pairs leave out two poles, or a pole and the chassis.",
    why="With one contactor welded a pole is live against the chassis while the two poles show nothing.",
    find=None,
    text=__doc__,
)
