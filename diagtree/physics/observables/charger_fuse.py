"""Resistance of the charger's high-voltage fuse."""

from __future__ import annotations

import math

from diagtree.physics.assumed import FUSE
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _fuse(setup: Setup) -> float:
    return math.inf if setup.has("charger.fuse", "open") else FUSE.value


OBSERVABLE = Observable(
    id="charger-fuse",
    kind="resistance",
    details=(("charger.fuse",),),
    unit="ohm",
    meaning="resistance of the charger's high-voltage fuse, leads taken off",
    changed_by=("charger.fuse",),
    compute=_fuse,
    source="Ohm's law",
    assumes="2 milliohm in a sound fuse (estimate)",
    hazard="high-voltage",
)
