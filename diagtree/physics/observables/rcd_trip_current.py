"""Current at which the owner's residual-current device trips."""

from __future__ import annotations

import math

from diagtree.physics.assumed import RESIDUAL_DEVICE
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _trip(setup: Setup) -> float:
    return math.inf if setup.has("rcd", "stuck") else setup.value("rcd", "trips-at", RESIDUAL_DEVICE.value)


OBSERVABLE = Observable(
    id="rcd-trip-current",
    kind="current",
    details=(("rcd",), ("trip",)),
    unit="A",
    meaning="rising alternating residual current at which the owner's device of 30 mA trips",
    changed_by=("rcd",),
    compute=_trip,
    source="IEC 61008-1: half to once the rated residual current",
    assumes="a sound device trips at 22 mA (estimate)",
    hazard="high-voltage",
)
