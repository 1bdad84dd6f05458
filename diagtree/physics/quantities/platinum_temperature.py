"""Temperature of a platinum sensor from its resistance."""

from __future__ import annotations

from diagtree.physics import resistance_thermometer as thermometer
from diagtree.physics.quantity import Facts, Input, Quantity, Worked
from diagtree.physics.ranges import checked

RESISTANCE = Input("resistance", "ohm", "resistance of the sensor", 0.001, 1e6)
SENSOR = Input("sensor", "facts", "the platinum sensor in the vehicle profile: {r0}, 1000 ohm for a Pt1000")
VALUE = Input("value", "degC", "temperature of a platinum temperature sensor", thermometer.LOWEST, thermometer.HIGHEST)

PT1000: Facts = {"kind": "platinum", "r0": 1000.0}


@checked(RESISTANCE, SENSOR)
def platinum_temperature(resistance: float, sensor: Facts) -> float:
    """Return the temperature of a platinum temperature sensor. [degC]

    resistance : resistance of the sensor, 0.001 to 1e6. [ohm]
    sensor : the platinum sensor in the vehicle profile: {r0}, 1000 ohm for a Pt1000.

    Raises OutOfRange outside these ranges,
    for a resistance no such sensor has and where the profile lacks `r0` or says `unknown`.
    Source: IEC 60751.
    """
    return thermometer.temperature_of_ratio(resistance / thermometer.nominal(sensor))


@checked(VALUE, SENSOR)
def resistance_of_platinum_temperature(value: float, sensor: Facts) -> float:
    """Return the resistance of the platinum sensor at the temperature `value` [degC]. [ohm]"""
    return thermometer.nominal(sensor) * thermometer.ratio(value)


QUANTITY = Quantity(
    id="platinum-temperature",
    meaning="temperature of a platinum temperature sensor",
    unit="degC",
    inputs=(RESISTANCE, SENSOR),
    compute=platinum_temperature,
    inverses={"resistance": resistance_of_platinum_temperature},
    formula="t = (-A + sqrt(A^2 - 4 B (1 - R/R0))) / (2 B) from 0 degC up; below by iteration",
    source="IEC 60751",
    worked=(
        Worked({"resistance": 800.0, "sensor": PT1000}, -50.771, 0.02, "computed from IEC 60751"),
        Worked(
            {"resistance": 1347.0, "sensor": PT1000},
            89.982,
            0.02,
            "computed; 1347 ohm = 90 degC printed in a charge controller's manual",
        ),
        Worked({"resistance": 1573.3, "sensor": PT1000}, 150.013, 0.02, "computed; printed table: 150 degC"),
    ),
)
