"""Resistance of a platinum temperature sensor (Pt100, Pt1000) at a temperature."""

from __future__ import annotations

from diagtree.physics import resistance_thermometer as thermometer
from diagtree.physics.quantity import Facts, Input, Quantity, Worked
from diagtree.physics.ranges import checked

TEMPERATURE = Input("temperature", "degC", "temperature of the sensor", thermometer.LOWEST, thermometer.HIGHEST)
SENSOR = Input("sensor", "facts", "the platinum sensor in the vehicle profile: {r0}, 1000 ohm for a Pt1000")
RESISTANCE = Input("value", "ohm", "resistance of the sensor", 0.001, 1e6)

PT1000: Facts = {"kind": "platinum", "r0": 1000.0}


@checked(TEMPERATURE, SENSOR)
def platinum(temperature: float, sensor: Facts) -> float:
    """Return the resistance of a platinum sensor. [ohm]

    temperature : of the sensor itself, -200 to 850. [degC]
    sensor : `{r0}` of the vehicle profile, the resistance at 0 degC. [ohm]

    Raises OutOfRange outside the range or where the profile lacks `r0` or says `unknown`.
    Source: IEC 60751.
    """
    return thermometer.nominal(sensor) * thermometer.ratio(temperature)


@checked(RESISTANCE, SENSOR)
def platinum_inverse(value: float, sensor: Facts) -> float:
    """Return the temperature at which the platinum sensor has the resistance `value` [ohm]. [degC]"""
    return thermometer.temperature_of_ratio(value / thermometer.nominal(sensor))


QUANTITY = Quantity(
    id="platinum",
    meaning="resistance of a platinum temperature sensor",
    unit="ohm",
    inputs=(TEMPERATURE, SENSOR),
    compute=platinum,
    inverses={"temperature": platinum_inverse},
    formula="R = R0 (1 + A t + B t^2), below 0 degC + R0 C (t - 100) t^3",
    source="IEC 60751: A = 3.9083e-3, B = -5.775e-7, C = -4.183e-12",
    worked=(
        Worked({"temperature": -40.0, "sensor": PT1000}, 842.70, 0.05, "stm32world.com, Pt1000 (DIN)"),
        Worked({"temperature": 25.0, "sensor": PT1000}, 1097.3, 0.05, "focusensing.com, Pt1000 table"),
        Worked({"temperature": 150.0, "sensor": PT1000}, 1573.3, 0.05, "focusensing.com, Pt1000 table"),
        Worked({"temperature": 90.0, "sensor": {"r0": 100.0}}, 134.71, 0.006, "sensorsci.com, Pt100 table, IEC 751"),
    ),
)
