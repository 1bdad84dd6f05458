"""Resistance between proximity and earth in the plug."""

from __future__ import annotations

from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup
from diagtree.physics.signal_lines import plug_resistance


def _plug(setup: Setup, button: str) -> float:
    return plug_resistance(setup, "unlatched" if button else "latched")


OBSERVABLE = Observable(
    id="plug-resistance",
    kind="resistance",
    details=(("proximity",), ("plug",), ("", "unlatched")),
    unit="ohm",
    meaning="proximity to earth in the owner's plug for the car; `unlatched`: button pressed (type 1)",
    changed_by=("plug",),
    compute=_plug,
    source="IEC 61851-1 Annex B and IEC 62196-2",
    assumes="a type 2 cable for 32 A: 220 ohm",
)
