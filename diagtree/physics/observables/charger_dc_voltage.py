"""Voltages of battery and charger as the car shows them."""

from __future__ import annotations

from diagtree.physics.dc_charge import battery_voltage
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _readout(setup: Setup, part: str) -> float:
    if part == "charger dc side" and (setup.has("charger.fuse", "open") or setup.has("battery", "contactor-open")):
        return 0.0
    return battery_voltage(setup)


OBSERVABLE = Observable(
    id="charger-dc-voltage",
    kind="voltage",
    details=(("battery", "charger dc side"),),
    unit="V",
    meaning="voltage of the traction battery, and what the charger reads on its DC side, car ready",
    changed_by=("charger.fuse", "battery"),
    compute=_readout,
    source="what is joined by a sound fuse and closed contactors has one voltage",
    assumes="the profile's nominal voltage at any charge",
    hazard="live",
)
