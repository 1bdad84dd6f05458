"""Temperature at which a contact ends under a steady current."""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics import heating
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked, plain

AMBIENT = Input("ambient", "degC", "temperature around it", -60.0, 100.0)
CURRENT = Input("current", "A", "current through the contact", 0.0, 1500.0)
RESISTANCE = Input("resistance", "ohm", "resistance of the contact", 0.0, 10.0)
THERMAL_RESISTANCE = Input("thermal_resistance", "K/W", "thermal resistance to the surroundings", 0.001, 1000.0)
VALUE = Input("value", "degC", "temperature at which a contact ends", -60.0, 1e12)


@checked(AMBIENT, CURRENT, RESISTANCE, THERMAL_RESISTANCE)
def contact_end_temperature(ambient: float, current: float, resistance: float, thermal_resistance: float) -> float:
    """Return the temperature at which a contact ends. [degC]

    ambient : temperature around it, -60 to 100. [degC]
    current : current through the contact, 0 to 1500. [A]
    resistance : resistance of the contact, 0 to 10. [ohm]
    thermal_resistance : thermal resistance to the surroundings, 0.001 to 1000. [K/W]

    Raises OutOfRange outside these ranges.
    Source: first-order thermal model.
    """
    return ambient + heating.loss(current, resistance) * thermal_resistance


@checked(VALUE, AMBIENT, CURRENT, THERMAL_RESISTANCE)
def resistance_of_contact_end_temperature(
    value: float, ambient: float, current: float, thermal_resistance: float
) -> float:
    """Return the resistance of a contact that ends at `value` [degC]. [ohm]"""
    if value < ambient:
        raise OutOfRange(f"`value` = {plain(value)} degC is below the surroundings: type {plain(ambient)} degC or more")
    heat = current * current * thermal_resistance
    return (value - ambient) / heat if heat > 0.0 else math.inf


QUANTITY = Quantity(
    id="contact-end-temperature",
    meaning="temperature at which a contact ends",
    unit="degC",
    inputs=(AMBIENT, CURRENT, RESISTANCE, THERMAL_RESISTANCE),
    compute=contact_end_temperature,
    inverses={"resistance": resistance_of_contact_end_temperature},
    formula="T = Ta + I^2 R Rth",
    source="first-order thermal model",
    worked=(
        Worked(
            {"ambient": 25.0, "current": 32.0, "resistance": 0.005, "thermal_resistance": 10.0},
            76.2,
            0.01,
            "computed; model constants assumed",
        ),
    ),
    hazard="high-voltage",
)
