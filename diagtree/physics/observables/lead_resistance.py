"""Resistance of the AC wires between inlet and charger."""

from __future__ import annotations

import math

from diagtree.physics.ac_charge import contact_resistance, phases
from diagtree.physics.assumed import CONTACT, LEAD_AREA, LEAD_LENGTH
from diagtree.physics.observable import Observable
from diagtree.physics.quantities.cable_resistance import cable_resistance
from diagtree.physics.setup import Setup

WIRES = ("l1", "l2", "l3", "n", "earth")


def _wire(setup: Setup, wire: str) -> float:
    """Return the resistance of one wire with its contact, or the highest or lowest of phases and neutral. [ohm]"""
    if wire in ("highest", "lowest"):
        every = [_wire(setup, one) for one in (*phases(setup), "n")]
        return max(every) if wire == "highest" else min(every)
    if setup.has("inlet.ac_lead", f"{wire}-open"):
        return math.inf
    copper = cable_resistance(LEAD_LENGTH.value, LEAD_AREA.value) / 2.0
    # The worn contact is one: the first phase's.
    return copper + (contact_resistance(setup, "ac") if wire == "l1" else CONTACT.value)


OBSERVABLE = Observable(
    id="lead-resistance",
    kind="resistance",
    details=(("inlet.ac_lead",), (*WIRES, "highest", "lowest")),
    unit="ohm",
    meaning="AC wire from inlet pin to unplugged far end, four-wire; highest and lowest of phases and neutral",
    changed_by=("inlet.ac_lead", "inlet.ac_contact"),
    compute=_wire,
    source="resistivity of copper at about 20 degC, from memory",
    assumes="1.2 m of 6 mm2 copper and 0.3 milliohm in a sound contact (estimates)",
    hazard="high-voltage",
)
