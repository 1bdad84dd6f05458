"""Tolerance of an NTC in kelvins, from the tolerance of its resistance."""

from __future__ import annotations

from diagtree.physics import thermistor
from diagtree.physics.quantity import Facts, Input, Quantity, Worked
from diagtree.physics.ranges import checked

TEMPERATURE = Input("temperature", "degC", "temperature of the sensor", -100.0, 400.0)
PERCENT = Input("percent", "percent", "tolerance of its resistance", 0.0, 50.0)
SENSOR = Input("sensor", "facts", "the NTC in the vehicle profile: {r25, beta}, {a, b, c} or {table}")


@checked(TEMPERATURE, PERCENT, SENSOR)
def ntc_tolerance(temperature: float, percent: float, sensor: Facts) -> float:
    """Return the tolerance of an NTC temperature sensor. [K]

    temperature : temperature of the sensor, -100 to 400. [degC]
    percent : tolerance of its resistance, 0 to 50. [percent]
    sensor : the NTC in the vehicle profile: {r25, beta}, {a, b, c} or {table}.

    Raises OutOfRange outside these ranges or where the profile lacks a fact.
    Source: the sensor's own curve, taken twice.
    """
    ohms = thermistor.resistance(temperature, sensor) * (1.0 - percent / 100.0)
    return thermistor.temperature(ohms, sensor) - temperature


QUANTITY = Quantity(
    id="ntc-tolerance",
    meaning="tolerance of an NTC temperature sensor",
    unit="K",
    inputs=(
        TEMPERATURE,
        PERCENT,
        SENSOR,
    ),
    compute=ntc_tolerance,
    formula="dT = t(R (1 - p)) - t, the warmer and larger side",
    source="the sensor's own curve, taken twice",
    worked=(
        Worked(
            {"temperature": 25.0, "percent": 1.0, "sensor": {"r25": 10000.0, "beta": 3435.0}},
            0.26,
            0.005,
            "computed: 1 % of R is T^2/beta x 0.01",
        ),
    ),
)
