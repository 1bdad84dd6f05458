"""Error that resistance in the leads adds to a temperature sensor."""

from __future__ import annotations

from diagtree.physics import temperature_sensor
from diagtree.physics.quantity import Facts, Input, Quantity, Worked
from diagtree.physics.ranges import checked

TEMPERATURE = Input("temperature", "degC", "true temperature of the sensor", -100.0, 400.0)
SERIES = Input("series", "ohm", "resistance of leads and contacts", 0.0, 1e6)
SENSOR = Input("sensor", "facts", "the sensor in the vehicle profile: {kind: ntc | platinum, ...}")


@checked(TEMPERATURE, SERIES, SENSOR)
def sensor_lead_error(temperature: float, series: float, sensor: Facts) -> float:
    """Return the error of the shown temperature from resistance in the leads. [K]

    temperature : true temperature of the sensor, -100 to 400. [degC]
    series : resistance of leads and contacts, 0 to 1e6. [ohm]
    sensor : the sensor in the vehicle profile: {kind: ntc | platinum, ...}.

    A platinum sensor reads hot, by nearly as much everywhere; an NTC reads cold, by more the warmer it is.
    Raises OutOfRange outside these ranges and for a PTC switch, which tells no temperature.
    Source: the sensor's own curve, taken twice.
    """
    true = temperature_sensor.resistance(temperature, sensor)
    return temperature_sensor.temperature(true + series, sensor) - temperature


QUANTITY = Quantity(
    id="sensor-lead-error",
    meaning="error of the shown temperature from resistance in the leads",
    unit="K",
    inputs=(TEMPERATURE, SERIES, SENSOR),
    compute=sensor_lead_error,
    formula="dT = t(R(t) + Rlead) - t",
    source="the sensor's own curve, taken twice",
    worked=(
        Worked(
            {"temperature": 25.0, "series": 1.0, "sensor": {"kind": "platinum", "r0": 1000.0}},
            0.258,
            0.01,
            "computed from IEC 60751",
        ),
        Worked(
            {"temperature": 25.0, "series": 1.0, "sensor": {"kind": "platinum", "r0": 100.0}},
            2.579,
            0.01,
            "computed from IEC 60751",
        ),
    ),
)
