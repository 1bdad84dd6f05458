"""Time until a contact reaches a temperature under a steady current."""

from __future__ import annotations

import math

from diagtree.physics import heating
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

LIMIT = Input("limit", "degC", "temperature to reach", -60.0, 500.0)
AMBIENT = Input("ambient", "degC", "temperature around it", -60.0, 100.0)
CURRENT = Input("current", "A", "current through the contact", 0.0, 1500.0)
RESISTANCE = Input("resistance", "ohm", "resistance of the contact", 0.0, 10.0)
THERMAL_RESISTANCE = Input("thermal_resistance", "K/W", "thermal resistance to the surroundings", 0.001, 1000.0)
TIME_CONSTANT = Input("time_constant", "s", "thermal time constant", 0.1, 100000.0)
VALUE = Input("value", "s", "time until a contact reaches a temperature", 0.0, 1e7)

EXAMPLE = {"ambient": 25.0, "current": 32.0, "resistance": 0.005, "thermal_resistance": 10.0, "time_constant": 600.0}


@checked(LIMIT, AMBIENT, CURRENT, RESISTANCE, THERMAL_RESISTANCE, TIME_CONSTANT)
def contact_time_to_limit(
    limit: float, ambient: float, current: float, resistance: float, thermal_resistance: float, time_constant: float
) -> float:
    """Return the time until a contact reaches a temperature. [s]

    limit : temperature to reach, -60 to 500. [degC]
    ambient : temperature around it, -60 to 100. [degC]
    current : current through the contact, 0 to 1500. [A]
    resistance : resistance of the contact, 0 to 10. [ohm]
    thermal_resistance : thermal resistance to the surroundings, 0.001 to 1000. [K/W]
    time_constant : thermal time constant, 0.1 to 100000. [s]

    Raises OutOfRange outside these ranges.
    Source: first-order thermal model.
    """
    rise = heating.loss(current, resistance) * thermal_resistance
    return heating.time_to(ambient, rise, limit, time_constant)


@checked(VALUE, AMBIENT, CURRENT, RESISTANCE, THERMAL_RESISTANCE, TIME_CONSTANT)
def limit_of_contact_time_to_limit(
    value: float, ambient: float, current: float, resistance: float, thermal_resistance: float, time_constant: float
) -> float:
    """Return the temperature reached after `value` [s]. [degC]"""
    rise = heating.loss(current, resistance) * thermal_resistance
    return heating.temperature(ambient, rise, value, time_constant)


QUANTITY = Quantity(
    id="contact-time-to-limit",
    meaning="time until a contact reaches a temperature",
    unit="s",
    inputs=(LIMIT, AMBIENT, CURRENT, RESISTANCE, THERMAL_RESISTANCE, TIME_CONSTANT),
    compute=contact_time_to_limit,
    inverses={"limit": limit_of_contact_time_to_limit},
    formula="t = -tau ln(1 - (Tlimit - Ta) / (I^2 R Rth)); infinity where it is never reached",
    source="first-order thermal model",
    worked=(
        Worked({**EXAMPLE, "limit": 70.0}, 1266.7, 1.0, "computed; model constants assumed"),
        Worked({**EXAMPLE, "limit": 80.0}, math.inf, 0.0, "ends at 76.2 degC: never"),
    ),
    hazard="high-voltage",
)
