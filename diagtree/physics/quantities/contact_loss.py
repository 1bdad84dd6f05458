"""Heat in a contact."""

from __future__ import annotations

import math

from diagtree.physics import heating
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

CURRENT = Input("current", "A", "current through the contact", 0.0, 1500.0)
RESISTANCE = Input("resistance", "ohm", "resistance of the contact", 0.0, 10.0)
VALUE = Input("value", "W", "power that a contact turns into heat", 0.0, 1e8)


@checked(CURRENT, RESISTANCE)
def contact_loss(current: float, resistance: float) -> float:
    """Return the power that a contact turns into heat. [W]

    current : current through the contact, 0 to 1500. [A]
    resistance : resistance of the contact, 0 to 10. [ohm]

    Raises OutOfRange outside these ranges.
    Source: Joule's law.
    """
    return heating.loss(current, resistance)


@checked(VALUE, CURRENT)
def resistance_of_contact_loss(value: float, current: float) -> float:
    """Return the resistance that loses `value` [W]. [ohm]"""
    return value / (current * current) if current > 0.0 else math.inf


QUANTITY = Quantity(
    id="contact-loss",
    meaning="power that a contact turns into heat",
    unit="W",
    inputs=(CURRENT, RESISTANCE),
    compute=contact_loss,
    inverses={"resistance": resistance_of_contact_loss},
    formula="P = I^2 R",
    source="Joule's law",
    worked=(
        Worked({"current": 32.0, "resistance": 0.005}, 5.12, 0.01, "computed"),
        Worked({"current": 200.0, "resistance": 0.0005}, 20.0, 0.01, "computed"),
    ),
    hazard="high-voltage",
)
