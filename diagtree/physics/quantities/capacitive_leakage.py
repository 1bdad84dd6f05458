"""Leakage current of capacitors to earth."""

from __future__ import annotations

import math

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

CAPACITANCE = Input("capacitance", "F", "capacitance to earth", 0.0, 0.001)
VOLTAGE = Input("voltage", "V", "voltage against earth", 0.0, 1000.0, 230.0)
FREQUENCY = Input("frequency", "Hz", "frequency of the supply", 0.0, 1000.0, 50.0)
VALUE = Input("value", "A", "leakage current of capacitors to earth", 0.0, 1e7)


@checked(CAPACITANCE, VOLTAGE, FREQUENCY)
def capacitive_leakage(capacitance: float, voltage: float = 230.0, frequency: float = 50.0) -> float:
    """Return the leakage current of capacitors to earth. [A]

    capacitance : capacitance to earth, 0 to 0.001. [F]
    voltage : voltage against earth, 0 to 1000. [V]
    frequency : frequency of the supply, 0 to 1000. [Hz]

    Raises OutOfRange outside these ranges.
    Source: current of a capacitor.
    """
    return 2.0 * math.pi * frequency * capacitance * voltage


@checked(VALUE, VOLTAGE, FREQUENCY)
def capacitance_of_capacitive_leakage(value: float, voltage: float = 230.0, frequency: float = 50.0) -> float:
    """Return the capacitance that leaks `value` [A]. [F]"""
    divisor = 2.0 * math.pi * frequency * voltage
    return value / divisor if divisor > 0.0 else math.inf


QUANTITY = Quantity(
    id="capacitive-leakage",
    meaning="leakage current of capacitors to earth",
    unit="A",
    inputs=(CAPACITANCE, VOLTAGE, FREQUENCY),
    compute=capacitive_leakage,
    inverses={"capacitance": capacitance_of_capacitive_leakage},
    formula="I = 2 pi f C U",
    source="current of a capacitor",
    worked=(
        Worked({"capacitance": 100e-9}, 7.226e-3, 0.01e-3, "computed"),
        Worked({"capacitance": 208e-9}, 15e-3, 0.05e-3, "computed: the no-trip current of a 30 mA RCD"),
    ),
    hazard="high-voltage",
)
