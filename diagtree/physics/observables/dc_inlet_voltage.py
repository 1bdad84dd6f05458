"""Voltage at the DC pins of the inlet."""

from __future__ import annotations

from diagtree.physics.dc_charge import battery_voltage
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _pins(setup: Setup, state: str) -> float:
    """Return the voltage that the car reads at its DC pins. [V] Nothing plugged in, it must be none."""
    joined = setup.has("inlet.dc_lead", "contactor-welded")
    if state == "charging":
        joined = not setup.has("inlet.dc_lead", "contactor-open", "open")
    return battery_voltage(setup) if joined and not setup.has("battery", "contactor-open") else 0.0


OBSERVABLE = Observable(
    id="dc-inlet-voltage",
    kind="voltage",
    details=(("inlet.dc_lead",), ("unplugged", "charging")),
    unit="V",
    meaning="voltage that the car reads behind its DC pins, unplugged or while it charges on DC",
    changed_by=("inlet.dc_lead", "battery"),
    compute=_pins,
    source="open contactors part the pins from the battery",
    hazard="high-voltage",
)
