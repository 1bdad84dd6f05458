"""Voltage across a contact."""

from __future__ import annotations

import math

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

CURRENT = Input("current", "A", "current through the contact", 0.0, 1500.0)
RESISTANCE = Input("resistance", "ohm", "resistance of the contact", 0.0, 10.0)
VALUE = Input("value", "V", "voltage across a contact", 0.0, 100000.0)


@checked(CURRENT, RESISTANCE)
def contact_drop(current: float, resistance: float) -> float:
    """Return the voltage across a contact. [V]

    current : current through the contact, 0 to 1500. [A]
    resistance : resistance of the contact, 0 to 10. [ohm]

    Raises OutOfRange outside these ranges.
    Source: Ohm's law.
    """
    return current * resistance


@checked(VALUE, CURRENT)
def resistance_of_contact_drop(value: float, current: float) -> float:
    """Return the resistance with the drop `value` [V]. [ohm]"""
    return value / current if current > 0.0 else math.inf


QUANTITY = Quantity(
    id="contact-drop",
    meaning="voltage across a contact",
    unit="V",
    inputs=(CURRENT, RESISTANCE),
    compute=contact_drop,
    inverses={"resistance": resistance_of_contact_drop},
    formula="U = I R",
    source="Ohm's law",
    worked=(
        Worked({"current": 32.0, "resistance": 0.005}, 0.16, 1e-6, "computed"),
        Worked({"current": 200.0, "resistance": 0.0002}, 0.04, 1e-6, "computed"),
    ),
    hazard="high-voltage",
)
