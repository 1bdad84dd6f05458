"""Resistance of the wires of the owner's cable."""

from __future__ import annotations

import math

from diagtree.physics.ac_charge import phases
from diagtree.physics.assumed import CABLE_AREA, CABLE_LENGTH, CABLE_SIGNAL_AREA
from diagtree.physics.observable import Observable
from diagtree.physics.quantities.cable_resistance import cable_resistance
from diagtree.physics.setup import Setup

PARTED = {"l1": "parted", "n": "neutral-parted", "earth": "earth-parted", "pilot": "pilot-parted"}
WIRES = ("l1", "l2", "l3", "n", "earth", "pilot")


def _wire(setup: Setup, wire: str) -> float:
    """Return the resistance of one wire end to end, or the highest of them. [ohm]"""
    if wire == "highest":
        return max(_wire(setup, one) for one in (*phases(setup), "n", "earth", "pilot"))
    if setup.has("cable", PARTED.get(wire, "")):
        return math.inf
    area = CABLE_SIGNAL_AREA.value if wire == "pilot" else CABLE_AREA.value
    sound = cable_resistance(CABLE_LENGTH.value, area) / 2.0
    return sound + (setup.value("cable", "resistance", 0.0) if wire == "l1" else 0.0)


OBSERVABLE = Observable(
    id="cable-resistance",
    kind="resistance",
    details=(("cable",), (*WIRES, "highest")),
    unit="ohm",
    meaning="one wire of the owner's cable, plug to plug; the highest of phases, neutral, earth and pilot",
    changed_by=("cable",),
    compute=_wire,
    source="resistivity of copper at about 20 degC, from memory",
    assumes="5 m, 6 mm2 and 0.5 mm2 for the pilot (estimates)",
)
