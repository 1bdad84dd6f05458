"""Current that flows to the chassis through an insulation resistance."""

from __future__ import annotations

import math

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

VOLTAGE = Input("voltage", "V", "voltage of the circuit", 0.0, 1500.0)
RESISTANCE = Input("resistance", "ohm", "insulation resistance", 1.0, 1e12)
VALUE = Input("value", "A", "current through an insulation resistance", 0.0, 1500.0)


@checked(VOLTAGE, RESISTANCE)
def insulation_leakage_current(voltage: float, resistance: float) -> float:
    """Return the current through an insulation resistance. [A]

    voltage : voltage of the circuit, 0 to 1500. [V]
    resistance : insulation resistance, 1 to 1e+12. [ohm]

    Raises OutOfRange outside these ranges.
    Source: Ohm's law; 100 ohm/V allows 10 mA, 500 ohm/V 2 mA at any voltage.
    """
    return voltage / resistance


@checked(VALUE, VOLTAGE)
def resistance_of_insulation_leakage_current(value: float, voltage: float) -> float:
    """Return the resistance that leaks `value` [A]. [ohm]"""
    return voltage / value if value > 0.0 else math.inf


QUANTITY = Quantity(
    id="insulation-leakage-current",
    meaning="current through an insulation resistance",
    unit="A",
    inputs=(VOLTAGE, RESISTANCE),
    compute=insulation_leakage_current,
    inverses={"resistance": resistance_of_insulation_leakage_current},
    formula="I = U / R",
    source="Ohm's law; 100 ohm/V allows 10 mA, 500 ohm/V 2 mA at any voltage",
    worked=(
        Worked({"voltage": 400.0, "resistance": 40e3}, 0.01, 1e-6, "computed: 100 ohm/V"),
        Worked({"voltage": 400.0, "resistance": 200e3}, 0.002, 1e-6, "computed: 500 ohm/V"),
    ),
    hazard="high-voltage",
)
