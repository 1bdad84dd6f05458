"""Temperature of a platinum sensor by the straight-line shortcut."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

RESISTANCE = Input("resistance", "ohm", "resistance of the sensor", 0.001, 1e6)
NOMINAL = Input("nominal", "ohm", "resistance at 0 degC", 1.0, 100000.0, 1000.0)
VALUE = Input("value", "degC", "temperature of a platinum sensor by the straight-line shortcut", -259.0, 1e8)

SLOPE = 0.00385
"""Slope of the straight line. [1/K]"""


@checked(RESISTANCE, NOMINAL)
def platinum_linear_temperature(resistance: float, nominal: float = 1000.0) -> float:
    """Return the temperature of a platinum sensor by the straight-line shortcut. [degC]

    resistance : resistance of the sensor, 0.001 to 1e6. [ohm]
    nominal : resistance at 0 degC, 1 to 100000. [ohm]

    Error of the shortcut: +0.28 K at 25, +0.15 K at 90, -0.86 K at -40, -1.1 K at 150 degC.
    Raises OutOfRange outside these ranges.
    Source: shortcut of an open vehicle project, which quotes +/-1 K for it.
    """
    return (resistance / nominal - 1.0) / SLOPE


@checked(VALUE, NOMINAL)
def resistance_of_platinum_linear_temperature(value: float, nominal: float = 1000.0) -> float:
    """Return the resistance that the shortcut reads as `value` [degC]. [ohm]"""
    return nominal * (1.0 + SLOPE * value)


QUANTITY = Quantity(
    id="platinum-linear-temperature",
    meaning="temperature of a platinum sensor by the straight-line shortcut",
    unit="degC",
    inputs=(RESISTANCE, NOMINAL),
    compute=platinum_linear_temperature,
    inverses={"resistance": resistance_of_platinum_linear_temperature},
    formula="t = (R - R0) / (0.00385 R0)",
    source="shortcut of an open vehicle project, which quotes +/-1 K for it",
    worked=(Worked({"resistance": 1347.07}, 90.15, 0.01, "computed; 90.00 degC by IEC 60751"),),
)
