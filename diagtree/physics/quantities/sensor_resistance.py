"""Resistance of whichever temperature sensor the car carries, at a temperature."""

from __future__ import annotations

from diagtree.physics import temperature_sensor, thermistor
from diagtree.physics.quantity import Facts, Input, Quantity, Worked
from diagtree.physics.ranges import checked

TEMPERATURE = Input("temperature", "degC", "temperature of the sensor", thermistor.LOWEST, thermistor.HIGHEST)
SENSOR = Input("sensor", "facts", "the sensor in the vehicle profile: {kind: ntc | platinum | ptc, ...}")
RESISTANCE = Input("value", "ohm", "resistance of the sensor", 0.001, 1e10)


@checked(TEMPERATURE, SENSOR)
def sensor_resistance(temperature: float, sensor: Facts) -> float:
    """Return the resistance that a healthy sensor of this car has. [ohm]

    temperature : of the sensor itself, -100 to 400. [degC]
    sensor : the sensor in the vehicle profile; its `kind` says which formula holds: ntc, platinum or ptc.

    A PTC switch has no curve: the middle of its normal band is returned while it is cool.
    Raises OutOfRange outside the range or where the profile lacks a fact or says `unknown`.
    Source: IEC 60751 for platinum, beta form or Steinhart-Hart for NTC; the facts are the car maker's.
    """
    return temperature_sensor.resistance(temperature, sensor)


@checked(RESISTANCE, SENSOR)
def sensor_resistance_inverse(value: float, sensor: Facts) -> float:
    """Return the temperature at which the car's sensor has the resistance `value` [ohm]. [degC]"""
    return temperature_sensor.temperature(value, sensor)


QUANTITY = Quantity(
    id="sensor-resistance",
    meaning="resistance of a healthy temperature sensor of this car",
    unit="ohm",
    inputs=(TEMPERATURE, SENSOR),
    compute=sensor_resistance,
    inverses={"temperature": sensor_resistance_inverse},
    formula="by the sensor's kind: NTC by beta, Steinhart-Hart or table; platinum by IEC 60751; PTC by its normal band",
    source="IEC 60751; Steinhart and Hart, Deep-Sea Research 15 (1968), p. 497; the car's profile",
    worked=(
        Worked({"temperature": 25.0, "sensor": {"kind": "ntc", "r25": 10000.0, "beta": 3435.0}}, 10000.0, 1e-6, "r25"),
        Worked(
            {"temperature": 90.0, "sensor": {"kind": "platinum", "r0": 1000.0}},
            1347.0,
            0.1,
            "user manual of a vehicle charge controller (2021), p. 179: 1347 ohm = 90 degC",
        ),
        Worked(
            {"temperature": 20.0, "sensor": {"kind": "ptc", "normal_low": 600.0, "normal_high": 1500.0}},
            1050.0,
            1e-6,
            "middle of the normal band printed in the same manual",
        ),
    ),
)
