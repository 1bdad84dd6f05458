"""Voltage at which a capacitor holds an energy."""

from __future__ import annotations

import math

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

CAPACITANCE = Input("capacitance", "F", "capacitance of the circuit", 1e-12, 1.0)
ENERGY = Input("energy", "J", "energy allowed", 0.0, 1e6, 0.2)
VALUE = Input("value", "V", "voltage at which a capacitor holds the energy allowed", 0.0, 1e10)


@checked(CAPACITANCE, ENERGY)
def energy_limit_voltage(capacitance: float, energy: float = 0.2) -> float:
    """Return the voltage at which a capacitor holds the energy allowed. [V]

    capacitance : capacitance of the circuit, 1e-12 to 1. [F]
    energy : energy allowed, 0 to 1e6. [J]

    Raises OutOfRange outside these ranges.
    Source: energy of a capacitor; 0.2 J: ISO 6469-4.
    """
    return math.sqrt(2.0 * energy / capacitance)


@checked(VALUE, CAPACITANCE)
def energy_of_energy_limit_voltage(value: float, capacitance: float) -> float:
    """Return the energy at the voltage `value` [V]. [J]"""
    return capacitance * value * value / 2.0


QUANTITY = Quantity(
    id="energy-limit-voltage",
    meaning="voltage at which a capacitor holds the energy allowed",
    unit="V",
    inputs=(CAPACITANCE, ENERGY),
    compute=energy_limit_voltage,
    inverses={"energy": energy_of_energy_limit_voltage},
    formula="V = sqrt(2 E / C)",
    source="energy of a capacitor; 0.2 J: ISO 6469-4",
    worked=(
        Worked({"capacitance": 1e-3}, 20.0, 0.1, "computed; 0.2 J from ISO 6469-4"),
        Worked({"capacitance": 1e-4}, 63.2, 0.1, "computed; 0.2 J from ISO 6469-4"),
    ),
    hazard="high-voltage",
)
