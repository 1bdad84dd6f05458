"""Temperature of an NTC thermistor from its resistance."""

from __future__ import annotations

from diagtree.physics import thermistor
from diagtree.physics.quantity import Facts, Input, Quantity, Worked
from diagtree.physics.ranges import checked

RESISTANCE = Input("resistance", "ohm", "resistance of the sensor", 0.001, 1e10)
SENSOR = Input("sensor", "facts", "the NTC in the vehicle profile: {r25, beta}, {a, b, c} or {table}")
VALUE = Input("value", "degC", "temperature of an NTC temperature sensor", thermistor.LOWEST, thermistor.HIGHEST)

FITTED: Facts = {"kind": "ntc", "table": {"0": 27326.0, "25": 10000.0, "85": 1451.0}}


@checked(RESISTANCE, SENSOR)
def ntc_temperature(resistance: float, sensor: Facts) -> float:
    """Return the temperature of an NTC temperature sensor. [degC]

    resistance : resistance of the sensor, 0.001 to 1e+10. [ohm]
    sensor : the NTC in the vehicle profile: {r25, beta}, {a, b, c} or {table}.

    Raises OutOfRange outside these ranges,
    for a resistance no such sensor has and where the profile lacks a fact or says `unknown`.
    Source: beta form; Steinhart and Hart, Deep-Sea Research 15 (1968), p. 497.
    """
    return thermistor.temperature(resistance, sensor)


@checked(VALUE, SENSOR)
def resistance_of_ntc_temperature(value: float, sensor: Facts) -> float:
    """Return the resistance of the NTC at the temperature `value` [degC]. [ohm]"""
    return thermistor.resistance(value, sensor)


QUANTITY = Quantity(
    id="ntc-temperature",
    meaning="temperature of an NTC temperature sensor",
    unit="degC",
    inputs=(RESISTANCE, SENSOR),
    compute=ntc_temperature,
    inverses={"resistance": resistance_of_ntc_temperature},
    formula="1/T = 1/298.15 K + ln(R/R25)/beta, or 1/T = a + b ln R + c (ln R)^3",
    source="beta form; Steinhart and Hart, Deep-Sea Research 15 (1968), p. 497",
    worked=(
        Worked(
            {"resistance": 4158.0, "sensor": {"r25": 10000.0, "beta": 3435.4}},
            49.58,
            0.02,
            "thermistor table B57330V2103: 50 degC",
        ),
        Worked({"resistance": 68104.0, "sensor": FITTED}, -19.961, 0.02, "the same table: -20 degC"),
        Worked({"resistance": 973.0, "sensor": FITTED}, 100.017, 0.02, "the same table: 100 degC"),
    ),
)
