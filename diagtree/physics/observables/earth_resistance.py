"""Earth of the owner's charge point."""

from __future__ import annotations

import math

from diagtree.physics.assumed import EARTH
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _earth(setup: Setup) -> float:
    return math.inf if setup.has("earth", "open") else setup.value("earth", "resistance", EARTH.value)


OBSERVABLE = Observable(
    id="earth-resistance",
    kind="resistance",
    details=(("earth",),),
    unit="ohm",
    meaning="earth loop at the owner's charge point",
    changed_by=("earth",),
    compute=_earth,
    source="Ohm's law",
    assumes="0.8 ohm in a sound house (estimate)",
    hazard="high-voltage",
)
