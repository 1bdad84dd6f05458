"""Resistance through which a residual current flows."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

VOLTAGE = Input("voltage", "V", "voltage that drives it", 0.0, 1500.0)
CURRENT = Input("current", "A", "leakage current", 1e-9, 100.0)
VALUE = Input("value", "ohm", "resistance through which a leakage current flows", 0.0, 1e13)


@checked(VOLTAGE, CURRENT)
def leak_resistance(voltage: float, current: float) -> float:
    """Return the resistance through which a leakage current flows. [ohm]

    voltage : voltage that drives it, 0 to 1500. [V]
    current : leakage current, 1e-9 to 100. [A]

    Raises OutOfRange outside these ranges.
    Source: Ohm's law.
    """
    return voltage / current


@checked(VALUE, CURRENT)
def voltage_of_leak_resistance(value: float, current: float) -> float:
    """Return the voltage that drives the current through `value` [ohm]. [V]"""
    return value * current


QUANTITY = Quantity(
    id="leak-resistance",
    meaning="resistance through which a leakage current flows",
    unit="ohm",
    inputs=(VOLTAGE, CURRENT),
    compute=leak_resistance,
    inverses={"voltage": voltage_of_leak_resistance},
    formula="R = U / I",
    source="Ohm's law",
    worked=(
        Worked({"voltage": 230.0, "current": 0.03}, 7667.0, 10.0, "computed"),
        Worked({"voltage": 400.0, "current": 0.006}, 66.7e3, 100.0, "computed"),
    ),
    hazard="high-voltage",
)
