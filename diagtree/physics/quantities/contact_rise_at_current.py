"""Rise of a contact at another current."""

from __future__ import annotations

import math

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

RISE = Input("rise", "K", "rise above the surroundings that was seen", 0.0, 500.0)
CURRENT = Input("current", "A", "current at which it was seen", 0.1, 1500.0)
OTHER_CURRENT = Input("other_current", "A", "the other current", 0.0, 1500.0)
VALUE = Input("value", "K", "rise of the same contact at another current", 0.0, 1e12)


@checked(RISE, CURRENT, OTHER_CURRENT)
def contact_rise_at_current(rise: float, current: float, other_current: float) -> float:
    """Return the rise of the same contact at another current. [K]

    rise : rise above the surroundings that was seen, 0 to 500. [K]
    current : current at which it was seen, 0.1 to 1500. [A]
    other_current : the other current, 0 to 1500. [A]

    Raises OutOfRange outside these ranges.
    Source: Joule's law; steady state.
    """
    return rise * (other_current / current) ** 2


@checked(VALUE, CURRENT, OTHER_CURRENT)
def rise_of_contact_rise_at_current(value: float, current: float, other_current: float) -> float:
    """Return the rise at `current` of a contact that rises by `value` [K] at the other. [K]"""
    return value * (current / other_current) ** 2 if other_current > 0.0 else math.inf


QUANTITY = Quantity(
    id="contact-rise-at-current",
    meaning="rise of the same contact at another current",
    unit="K",
    inputs=(RISE, CURRENT, OTHER_CURRENT),
    compute=contact_rise_at_current,
    inverses={"rise": rise_of_contact_rise_at_current},
    formula="dT2 = dT1 (I2 / I1)^2",
    source="Joule's law; steady state",
    worked=(
        Worked(
            {"rise": 51.2, "current": 32.0, "other_current": 16.0},
            12.8,
            0.01,
            "computed: a quarter at half the current",
        ),
    ),
    hazard="high-voltage",
)
