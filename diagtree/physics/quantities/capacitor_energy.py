"""Energy in a charged capacitor."""

from __future__ import annotations

import math

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

VOLTAGE = Input("voltage", "V", "voltage of the capacitor", 0.0, 1500.0)
CAPACITANCE = Input("capacitance", "F", "capacitance of the circuit", 1e-12, 1.0)
VALUE = Input("value", "J", "energy in a charged capacitor", 0.0, 1e7)


@checked(VOLTAGE, CAPACITANCE)
def capacitor_energy(voltage: float, capacitance: float) -> float:
    """Return the energy in a charged capacitor. [J]

    voltage : voltage of the capacitor, 0 to 1500. [V]
    capacitance : capacitance of the circuit, 1e-12 to 1. [F]

    Raises OutOfRange outside these ranges.
    Source: energy of a capacitor; ISO 6469-4 sets 0.2 J for Y capacitors.
    """
    return capacitance * voltage * voltage / 2.0


@checked(VALUE, CAPACITANCE)
def voltage_of_capacitor_energy(value: float, capacitance: float) -> float:
    """Return the voltage at which the capacitor holds `value` [J]. [V]"""
    return math.sqrt(2.0 * value / capacitance)


@checked(VALUE, VOLTAGE)
def capacitance_of_capacitor_energy(value: float, voltage: float) -> float:
    """Return the capacitance that holds `value` [J]. [F]"""
    return 2.0 * value / (voltage * voltage) if voltage > 0.0 else math.inf


QUANTITY = Quantity(
    id="capacitor-energy",
    meaning="energy in a charged capacitor",
    unit="J",
    inputs=(VOLTAGE, CAPACITANCE),
    compute=capacitor_energy,
    inverses={"voltage": voltage_of_capacitor_energy, "capacitance": capacitance_of_capacitor_energy},
    formula="E = C V^2 / 2",
    source="energy of a capacitor; ISO 6469-4 sets 0.2 J for Y capacitors",
    worked=(
        Worked({"voltage": 400.0, "capacitance": 1e-3}, 80.0, 0.05, "computed"),
        Worked({"voltage": 60.0, "capacitance": 1e-3}, 1.8, 0.05, "computed: nine times 0.2 J"),
    ),
    hazard="high-voltage",
)
