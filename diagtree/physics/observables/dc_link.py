"""Voltage of the high-voltage link."""

from __future__ import annotations

from diagtree.physics.assumed import LINK_ACTIVE, LINK_CAPACITANCE, LINK_PASSIVE
from diagtree.physics.dc_charge import battery_voltage
from diagtree.physics.observable import Observable
from diagtree.physics.quantities.discharge_voltage import discharge_voltage
from diagtree.physics.setup import Setup

OFF = {"off 10 seconds": 10.0, "off 2 minutes": 120.0, "off 5 minutes": 300.0, "off 10 minutes": 600.0}
"""Time since the car was switched off. [s]"""


def _link(setup: Setup, state: str) -> float:
    """Return the link's voltage with the car ready, or so long after it was switched off. [V]"""
    full = 0.0 if setup.has("battery", "contactor-open") else battery_voltage(setup)
    if state not in OFF or full == 0.0 or setup.has("dc_link", "passive-open"):
        return full
    resistance = LINK_PASSIVE.value if setup.has("dc_link", "active-open") else LINK_ACTIVE.value
    return discharge_voltage(full, resistance, LINK_CAPACITANCE.value, OFF[state])


OBSERVABLE = Observable(
    id="dc-link",
    kind="voltage",
    details=(("dc link",), ("", *OFF)),
    unit="V",
    meaning="voltage of the high-voltage link, car ready or so long after it was switched off",
    changed_by=("dc_link", "battery"),
    compute=_link,
    source="exponential discharge; never in place of the proof of absence by measurement",
    assumes="1 mF; 500 ohm quick, 50 kohm passive discharge (estimates)",
    hazard="high-voltage",
)
