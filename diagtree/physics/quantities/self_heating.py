"""Warming of a sensor by its own measuring current."""

from __future__ import annotations

import math

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

CURRENT = Input("current", "A", "measuring current", 0.0, 1.0)
RESISTANCE = Input("resistance", "ohm", "resistance of the sensor", 0.0, 1e7)
DISSIPATION = Input("dissipation", "W/K", "dissipation factor", 1e-5, 1.0, 0.007)
VALUE = Input("value", "K", "rise of a sensor by its own measuring current", 0.0, 1e15)


@checked(CURRENT, RESISTANCE, DISSIPATION)
def self_heating(current: float, resistance: float, dissipation: float = 0.007) -> float:
    """Return the rise of a sensor by its own measuring current. [K]

    current : measuring current, 0 to 1. [A]
    resistance : resistance of the sensor, 0 to 1e7. [ohm]
    dissipation : dissipation factor, 1e-5 to 1. [W/K]

    Raises OutOfRange outside these ranges.
    Source: dissipation factor 7 mW/K: data sheet of a leaded 10 kohm NTC family (NTCLE100E3).
    """
    return current * current * resistance / dissipation


@checked(VALUE, CURRENT, DISSIPATION)
def resistance_of_self_heating(value: float, current: float, dissipation: float = 0.007) -> float:
    """Return the resistance that warms by `value` [K]. [ohm]"""
    return value * dissipation / (current * current) if current > 0.0 else math.inf


QUANTITY = Quantity(
    id="self-heating",
    meaning="rise of a sensor by its own measuring current",
    unit="K",
    inputs=(CURRENT, RESISTANCE, DISSIPATION),
    compute=self_heating,
    inverses={"resistance": resistance_of_self_heating},
    formula="dT = I^2 R / factor",
    source="dissipation factor 7 mW/K: data sheet of a leaded 10 kohm NTC family (NTCLE100E3)",
    worked=(Worked({"current": 3.16228e-4, "resistance": 10000.0}, 0.143, 0.001, "computed: 1 mW"),),
)
