"""Largest difference of two platinum sensors on a car that has rested."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked
from diagtree.physics.resistance_thermometer import tolerance

TEMPERATURE = Input("temperature", "degC", "temperature of the car after hours without load", -60.0, 100.0)
FIRST_CLASS = Input(
    "first_class", "word", "tolerance class of the first sensor", default="B", words=("AA", "A", "B", "C")
)
SECOND_CLASS = Input(
    "second_class", "word", "tolerance class of the second sensor", default="B", words=("AA", "A", "B", "C")
)
READOUT = Input("readout", "K", "uncertainty of one shown temperature", 0.0, 20.0, 0.0)


@checked(TEMPERATURE, FIRST_CLASS, SECOND_CLASS, READOUT)
def cold_soak_limit(temperature: float, first_class: str = "B", second_class: str = "B", readout: float = 0.0) -> float:
    """Return the largest difference of two platinum sensors at one temperature. [K]

    temperature : temperature of the car after hours without load, -60 to 100. [degC]
    first_class : tolerance class of the first sensor.
    second_class : tolerance class of the second sensor.
    readout : uncertainty of one shown temperature, 0 to 20. [K]

    Raises OutOfRange outside these ranges.
    Source: IEC 60751 tolerance classes, worst case.
    """
    return tolerance(temperature, first_class) + tolerance(temperature, second_class) + 2.0 * readout


QUANTITY = Quantity(
    id="cold-soak-limit",
    meaning="largest difference of two platinum sensors at one temperature",
    unit="K",
    inputs=(TEMPERATURE, FIRST_CLASS, SECOND_CLASS, READOUT),
    compute=cold_soak_limit,
    formula="dT = tolerance of both sensors + 2 x readout",
    source="IEC 60751 tolerance classes, worst case",
    worked=(Worked({"temperature": 20.0}, 0.8, 0.005, "computed from IEC 60751, class B"),),
)
