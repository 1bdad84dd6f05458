"""Time in which the owner's residual-current device trips."""

from __future__ import annotations

import math

from diagtree.physics.assumed import RESIDUAL_TIME
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _trip(setup: Setup) -> float:
    return math.inf if setup.has("rcd", "stuck") else setup.value("rcd", "slow", RESIDUAL_TIME.value)


OBSERVABLE = Observable(
    id="rcd-trip-time",
    kind="time",
    details=(("rcd",), ("trip",)),
    unit="s",
    meaning="time in which the owner's device trips at its rated residual current",
    changed_by=("rcd",),
    compute=_trip,
    source="manual of an installation tester: at most 0.3 s for a general device",
    assumes="a sound device trips in 25 ms (estimate)",
    hazard="high-voltage",
)
