"""Largest capacitance to chassis that holds no more than the energy allowed."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

VOLTAGE = Input("voltage", "V", "voltage of the circuit", 0.001, 1500.0)
ENERGY = Input("energy", "J", "energy allowed", 0.0, 1e6, 0.2)
VALUE = Input("value", "F", "largest capacitance that holds the energy allowed", 0.0, 1e12)


@checked(VOLTAGE, ENERGY)
def y_capacitance_limit(voltage: float, energy: float = 0.2) -> float:
    """Return the largest capacitance that holds the energy allowed. [F]

    voltage : voltage of the circuit, 0.001 to 1500. [V]
    energy : energy allowed, 0 to 1e6. [J]

    Raises OutOfRange outside these ranges.
    Source: energy of a capacitor; 0.2 J: ISO 6469-4.
    """
    return 2.0 * energy / (voltage * voltage)


@checked(VALUE, VOLTAGE)
def energy_of_y_capacitance_limit(value: float, voltage: float) -> float:
    """Return the energy that the capacitance `value` [F] holds. [J]"""
    return value * voltage * voltage / 2.0


QUANTITY = Quantity(
    id="y-capacitance-limit",
    meaning="largest capacitance that holds the energy allowed",
    unit="F",
    inputs=(VOLTAGE, ENERGY),
    compute=y_capacitance_limit,
    inverses={"energy": energy_of_y_capacitance_limit},
    formula="C = 2 E / V^2",
    source="energy of a capacitor; 0.2 J: ISO 6469-4",
    worked=(
        Worked({"voltage": 400.0}, 2.5e-6, 0.005e-6, "computed; 0.2 J from ISO 6469-4"),
        Worked({"voltage": 800.0}, 0.625e-6, 0.005e-6, "computed; 0.2 J from ISO 6469-4"),
    ),
    hazard="high-voltage",
)
