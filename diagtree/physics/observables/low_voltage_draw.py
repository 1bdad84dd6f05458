"""Current that the parked car draws from its 12 V battery."""

from __future__ import annotations

from diagtree.physics.assumed import PARKED_DRAW
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _draw(setup: Setup) -> float:
    return setup.value("12 V battery", "drained", PARKED_DRAW.value)


OBSERVABLE = Observable(
    id="low-voltage-draw",
    kind="current",
    details=(("12 V battery",), ("parked",)),
    unit="A",
    meaning="current that the car draws once it is asleep",
    changed_by=("12 V battery",),
    compute=_draw,
    source="common practice",
    assumes="20 mA for a car asleep (estimate)",
    hazard="live",
)
