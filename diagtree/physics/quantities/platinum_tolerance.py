"""Tolerance of a platinum sensor by its class."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked
from diagtree.physics.resistance_thermometer import tolerance

TEMPERATURE = Input("temperature", "degC", "temperature of the sensor", -200.0, 850.0)
TOLERANCE_CLASS = Input(
    "tolerance_class", "word", "tolerance class of IEC 60751", default="B", words=("AA", "A", "B", "C")
)


@checked(TEMPERATURE, TOLERANCE_CLASS)
def platinum_tolerance(temperature: float, tolerance_class: str = "B") -> float:
    """Return the tolerance of a platinum sensor. [K]

    temperature : temperature of the sensor, -200 to 850. [degC]
    tolerance_class : tolerance class of IEC 60751.

    Raises OutOfRange outside these ranges.
    Source: IEC 60751 by focusensing.com; classes AA and C from memory.
    """
    return tolerance(temperature, tolerance_class)


QUANTITY = Quantity(
    id="platinum-tolerance",
    meaning="tolerance of a platinum sensor",
    unit="K",
    inputs=(TEMPERATURE, TOLERANCE_CLASS),
    compute=platinum_tolerance,
    formula="A 0.15 K + 0.002 |t|, B 0.30 K + 0.005 |t|; AA 0.10 K + 0.0017 |t|, C 0.60 K + 0.010 |t|",
    source="IEC 60751 by focusensing.com; classes AA and C from memory",
    worked=(
        Worked({"temperature": 100.0, "tolerance_class": "A"}, 0.35, 0.005, "printed table at focusensing.com"),
        Worked({"temperature": 150.0}, 1.05, 0.005, "printed table at focusensing.com"),
    ),
)
