"""Voltage of the 12 V battery."""

from __future__ import annotations

from diagtree.physics.assumed import CONVERTER, LOW_VOLTAGE_CHARGE
from diagtree.physics.data import REST_VOLTAGES
from diagtree.physics.lines import interpolated
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup

BY_CHARGE = tuple((charge, volts) for volts, charge in REST_VOLTAGES)
STATES = ("", "waking", "ready", "charging")


def _battery(setup: Setup, state: str) -> float:
    rest = interpolated(setup.value("12 V battery", "discharged", LOW_VOLTAGE_CHARGE.value), BY_CHARGE)
    if state in ("ready", "charging") and not setup.has("dc_converter", "dead"):
        return setup.value("dc_converter", "level", CONVERTER.value)
    return rest - (setup.value("12 V battery", "weak", 0.0) if state else 0.0)


OBSERVABLE = Observable(
    id="low-voltage",
    kind="voltage",
    details=(("12 V battery",), STATES),
    unit="V",
    meaning="voltage of the 12 V battery at rest, while the car wakes, with the car ready, while it charges",
    changed_by=("12 V battery", "dc_converter"),
    compute=_battery,
    source="table of a 12 V AGM battery; 13 to 15 V with the converter running (common practice)",
    assumes="90 percent charge at rest and 14.2 V from the converter (estimates)",
    hazard="live",
)
