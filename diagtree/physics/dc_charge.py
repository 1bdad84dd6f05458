"""DC charging of a car with faults."""

from __future__ import annotations

import math

from diagtree.physics.ac_charge import SIGNALS, SILENT_FROM, poles_insulated
from diagtree.physics.setup import Setup
from diagtree.physics.signal_lines import asks_for_charge, plug_recognised

STOPS = (*SIGNALS, "inlet.dc_lead", "DC+", "DC-", "battery", "dc_station")
"""Parts whose faults stop or limit a DC charge."""


def battery_voltage(setup: Setup) -> float:
    """Return the voltage of the traction battery: the profile's nominal one. [V] Raises OutOfRange without it."""
    return setup.number("battery.nominal", low=1.0, high=1500.0, unit="V")


def dc_allowed(setup: Setup) -> bool:
    """Return whether a DC charge gets as far as its current."""
    lock = setup.faults.get("lock")
    return (
        asks_for_charge(setup)
        and plug_recognised(setup.without("plug"))
        and not setup.has("interlock", "open")
        and setup.value("interlock", "series", 0.0) < SILENT_FROM
        and (lock is None or lock.mode.word == "stuck-locked")
        and not setup.has("battery", "contactor-open")
        and "inlet.dc_lead" not in setup.faults
        and poles_insulated(setup)
        and not setup.has("dc_station", "dead")
        and setup.conditions.charge < 100.0
    )


def dc_power(setup: Setup) -> float:
    """Return the power of a DC charge: the least of what car, battery and station allow. [W]

    Raises OutOfRange where the profile does not give the car's greatest, `vehicle.dc.power`.
    """
    most = setup.number("dc.power", low=1.0, high=1000.0, unit="kW")
    least = min(most, setup.value("battery", "limited", math.inf), setup.value("dc_station", "limited", math.inf))
    return 1000.0 * least if dc_allowed(setup) else 0.0


def dc_current(setup: Setup) -> float:
    """Return the current of a DC charge. [A]"""
    return dc_power(setup) / battery_voltage(setup)
