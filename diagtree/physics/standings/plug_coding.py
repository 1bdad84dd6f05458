"""Bands of the resistor in a type 2 plug."""

from __future__ import annotations

from diagtree.physics.proximity_circuit import CODING, coded_current
from diagtree.physics.standing import Asked, Limit, Limits, Meaning

SOURCE = "IEC 61851-1 Annex B, Table B.3, by the guide of the EVerest charging-station stack"


def find(asked: Asked) -> tuple[Limit, ...]:
    """Return the band of the current that the plug's resistor counts for, none where it counts as no cable."""
    current = coded_current(asked.judged)
    return tuple(Limit(low, high, f"plug of {amps:.0f} A", SOURCE) for low, high, amps in CODING if amps == current)


def meaning(asked: Asked) -> Meaning:
    """Return what the plug's resistor says."""
    return "proximity-coding", {"resistance": asked.judged}


LIMITS = Limits(frozenset({"proximity-resistance"}), find, meaning)
