"""Making safe that first opens what may be open only on a dead car.

Fires:

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}
    differs:
      access: {undertray: {power: dead}}

Silent:

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    safety: {dead_below: 30, wait: 5}
    differs:
      access: {undertray: {open: 5}}
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="make-safe-opens-dead-only",
    family="safety",
    level=Level.ERROR,
    finds="A `make-safe` whose own `needs.open` holds an access that is `power: dead`.",
    why="There is no way to begin but to open it live.",
    find=None,
    text=__doc__,
)
