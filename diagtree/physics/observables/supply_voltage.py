"""Voltage of the owner's supply."""

from __future__ import annotations

from diagtree.physics.ac_charge import CAR, OUTSIDE, PHASES, phases, supply_voltage
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _supply(setup: Setup, phase: str, load: str) -> float:
    if phase == "lowest":
        return min(_supply(setup, one, load) for one in phases(setup))
    return supply_voltage(setup, phase, home=True, idle=bool(load))


OBSERVABLE = Observable(
    id="supply-voltage",
    kind="voltage",
    details=(("supply",), (*PHASES, "lowest"), ("", "idle")),
    unit="V",
    meaning="phase to neutral at the owner's charge point while the car charges, or idle",
    changed_by=(*CAR, *OUTSIDE),
    compute=_supply,
    source="IEC 60038; Ohm's law",
    assumes="0.3 ohm of line and neutral in a sound house (estimate)",
    hazard="high-voltage",
)
