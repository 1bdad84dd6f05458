"""Resistance of the interlock loop."""

from __future__ import annotations

import math

from diagtree.physics.assumed import INTERLOCK_CONNECTOR, INTERLOCK_CONNECTORS
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _loop(setup: Setup) -> float:
    if setup.has("interlock", "open"):
        return math.inf
    return INTERLOCK_CONNECTOR.value * INTERLOCK_CONNECTORS.value + setup.value("interlock", "series", 0.0)


OBSERVABLE = Observable(
    id="interlock-resistance",
    kind="resistance",
    details=(("interlock",),),
    unit="ohm",
    meaning="resistance of the whole interlock loop",
    changed_by=("interlock",),
    compute=_loop,
    source="Ohm's law",
    assumes="five connectors of 0.1 ohm (estimate)",
)
