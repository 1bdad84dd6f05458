"""Voltage of the car's proximity pin."""

from __future__ import annotations

from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup
from diagtree.physics.signal_lines import PLUG_STATES, proximity_voltage


def _pin(setup: Setup, state: str) -> float:
    return proximity_voltage(setup, state)


OBSERVABLE = Observable(
    id="proximity-voltage",
    kind="voltage",
    details=(("proximity",), ("vehicle end",), PLUG_STATES),
    unit="V",
    meaning="voltage of the car's proximity pin: nothing plugged in, plug latched, or its button pressed (type 1)",
    changed_by=("proximity", "plug", "inlet.connector"),
    compute=_pin,
    source="IEC 61851-1 Annex B; manual of a vehicle charge controller for the car's circuit",
    hazard="live",
)
