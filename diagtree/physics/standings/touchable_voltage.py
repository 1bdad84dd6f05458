"""Voltage and energy that may be left in a circuit that is to be touched."""

from __future__ import annotations

from math import inf

from diagtree.physics.data import CLASS_B_DC, CONTACT_ENERGY
from diagtree.physics.standing import Asked, Limit, Limits


def find(asked: Asked) -> tuple[Limit, ...]:
    """Return the limit of the voltage that is left, or of the energy."""
    if asked.one.id == "capacitor-energy":
        energy = CONTACT_ENERGY
        return (Limit(-inf, energy.value, "energy of a single contact", energy.source, safety=True),)
    name = "hazardous voltage, DC (computed: measure before you touch)"
    return (Limit(-inf, CLASS_B_DC.value, name, "UN Regulation 100, ISO 6469-3", safety=True),)


LIMITS = Limits(frozenset({"discharge-voltage", "capacitor-energy"}), find)
