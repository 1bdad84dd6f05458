"""Temperature that a reading at the car's temperature sensor means."""

from __future__ import annotations

from diagtree.physics import temperature_sensor, thermistor
from diagtree.physics.quantity import Facts, Input, Quantity, Worked
from diagtree.physics.ranges import checked

RESISTANCE = Input("resistance", "ohm", "resistance of the sensor", 0.001, 1e10)
SENSOR = Input("sensor", "facts", "the sensor in the vehicle profile: {kind: ntc | platinum, ...}")
TEMPERATURE = Input("value", "degC", "temperature of the sensor", thermistor.LOWEST, thermistor.HIGHEST)


@checked(RESISTANCE, SENSOR)
def sensor_temperature(resistance: float, sensor: Facts) -> float:
    """Return the temperature that a resistance of the car's sensor means. [degC]

    resistance : measured at the sensor, above 0. [ohm]
    sensor : the sensor in the vehicle profile; its `kind` says which formula holds: ntc or platinum.

    Raises OutOfRange for a resistance no such sensor has (open, shorted), for a PTC switch, which tells no
    temperature, and where the profile lacks a fact or says `unknown`.
    Source: IEC 60751 for platinum, beta form or Steinhart-Hart for NTC; the facts are the car maker's.
    """
    return temperature_sensor.temperature(resistance, sensor)


@checked(TEMPERATURE, SENSOR)
def sensor_temperature_inverse(value: float, sensor: Facts) -> float:
    """Return the resistance of the car's sensor at the temperature `value` [degC]. [ohm]"""
    return temperature_sensor.resistance(value, sensor)


QUANTITY = Quantity(
    id="sensor-temperature",
    meaning="temperature that a resistance of the car's sensor means",
    unit="degC",
    inputs=(RESISTANCE, SENSOR),
    compute=sensor_temperature,
    inverses={"resistance": sensor_temperature_inverse},
    formula="by the sensor's kind: NTC by beta, Steinhart-Hart or table; platinum by IEC 60751",
    source="IEC 60751; Steinhart and Hart, Deep-Sea Research 15 (1968), p. 497; the car's profile",
    worked=(
        Worked(
            {"resistance": 4158.0, "sensor": {"kind": "ntc", "r25": 10000.0, "beta": 3435.4}},
            49.58,
            0.02,
            "thermistor table B57330V2103: 4158 ohm at 50 degC; the beta form is 0.42 K off there",
        ),
        Worked(
            {"resistance": 1347.0, "sensor": {"kind": "platinum", "r0": 1000.0}},
            89.982,
            0.02,
            "computed from IEC 60751",
        ),
    ),
)
