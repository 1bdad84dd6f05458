"""Error that moisture across a temperature sensor adds."""

from __future__ import annotations

import math

from diagtree.physics import temperature_sensor
from diagtree.physics.pilot_circuit import parallel
from diagtree.physics.quantity import Facts, Input, Quantity, Worked
from diagtree.physics.ranges import checked

TEMPERATURE = Input("temperature", "degC", "true temperature of the sensor", -100.0, 400.0)
LEAKAGE = Input("leakage", "ohm", "resistance across the sensor", 0.001, math.inf)
SENSOR = Input("sensor", "facts", "the sensor in the vehicle profile: {kind: ntc | platinum, ...}")


@checked(TEMPERATURE, LEAKAGE, SENSOR)
def sensor_leakage_error(temperature: float, leakage: float, sensor: Facts) -> float:
    """Return the error of the shown temperature from leakage across the sensor. [K]

    temperature : true temperature of the sensor, -100 to 400. [degC]
    leakage : resistance across the sensor, 0.001 to infinity. [ohm]
    sensor : the sensor in the vehicle profile: {kind: ntc | platinum, ...}.

    An NTC reads hot, most when cold; a platinum sensor reads cold.
    Raises OutOfRange outside these ranges and for a PTC switch, which tells no temperature.
    Source: the sensor's own curve, taken twice.
    """
    true = temperature_sensor.resistance(temperature, sensor)
    return temperature_sensor.temperature(parallel(true, leakage), sensor) - temperature


QUANTITY = Quantity(
    id="sensor-leakage-error",
    meaning="error of the shown temperature from leakage across the sensor",
    unit="K",
    inputs=(TEMPERATURE, LEAKAGE, SENSOR),
    compute=sensor_leakage_error,
    formula="dT = t(R(t) parallel Rleak) - t",
    source="the sensor's own curve, taken twice",
    worked=(
        Worked(
            {"temperature": 25.0, "leakage": math.inf, "sensor": {"kind": "ntc", "r25": 10000.0, "beta": 3435.0}},
            0.0,
            1e-9,
            "no leakage, no error",
        ),
        Worked(
            {"temperature": 25.0, "leakage": 10000.0, "sensor": {"kind": "ntc", "r25": 10000.0, "beta": 3435.0}},
            19.1,
            0.1,
            "computed by the beta form: half of 10 k",
        ),
    ),
)
