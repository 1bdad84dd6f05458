"""Resistance of an NTC thermistor at a temperature."""

from __future__ import annotations

from diagtree.physics import thermistor
from diagtree.physics.quantity import Facts, Input, Quantity, Worked
from diagtree.physics.ranges import checked

TEMPERATURE = Input("temperature", "degC", "temperature of the sensor", thermistor.LOWEST, thermistor.HIGHEST)
SENSOR = Input("sensor", "facts", "the NTC in the vehicle profile: {r25, beta}, {a, b, c} or {table}")
RESISTANCE = Input("value", "ohm", "resistance of the sensor", 0.001, 1e10)


@checked(TEMPERATURE, SENSOR)
def ntc(temperature: float, sensor: Facts) -> float:
    """Return the resistance of an NTC thermistor. [ohm]

    temperature : of the sensor itself, -100 to 400. [degC]
    sensor : `{r25, beta}` [ohm, K], `{a, b, c}` [1/K] or `{table: {degC: ohm, ...}}` of the vehicle profile.

    Raises OutOfRange outside the range or where the profile lacks a fact or says `unknown`.
    Source: beta form and Steinhart-Hart equation (Deep-Sea Research 15, 1968); the facts are the car maker's.
    """
    return thermistor.resistance(temperature, sensor)


@checked(RESISTANCE, SENSOR)
def ntc_inverse(value: float, sensor: Facts) -> float:
    """Return the temperature at which the NTC has the resistance `value` [ohm]. [degC]"""
    return thermistor.temperature(value, sensor)


QUANTITY = Quantity(
    id="ntc",
    meaning="resistance of an NTC temperature sensor",
    unit="ohm",
    inputs=(TEMPERATURE, SENSOR),
    compute=ntc,
    inverses={"temperature": ntc_inverse},
    formula="R = R25 * exp(beta * (1/T - 1/298.15 K)), or 1/T = a + b ln R + c (ln R)^3",
    source="beta form; Steinhart and Hart, Deep-Sea Research 15 (1968), p. 497",
    worked=(
        Worked({"temperature": 25.0, "sensor": {"kind": "ntc", "r25": 10000.0, "beta": 3435.0}}, 10000.0, 1e-6, "r25"),
        Worked(
            {"temperature": 85.0, "sensor": {"kind": "ntc", "r25": 10000.0, "beta": 3435.4}},
            1451.0,
            0.5,
            "thermistor table B57330V2103 in the Linux kernel, drivers/hwmon/ntc_thermistor.c",
        ),
        Worked(
            {"temperature": -20.0, "sensor": {"kind": "ntc", "table": {"0": 27326.0, "25": 10000.0, "85": 1451.0}}},
            68104.0,
            180.0,
            "thermistor table B57330V2103, the same file; the curve is fitted at 0, 25 and 85 degC",
        ),
    ),
)
