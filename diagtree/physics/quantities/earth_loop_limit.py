"""Largest earth loop resistance with an RCD."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

RATED = Input("rated", "A", "rated residual current", 0.001, 1.0, 0.03)
TOUCH_VOLTAGE = Input("touch_voltage", "V", "highest touch voltage", 1.0, 120.0, 50.0)
VALUE = Input("value", "ohm", "largest earth loop resistance with an RCD", 0.1, 1e6)


@checked(RATED, TOUCH_VOLTAGE)
def earth_loop_limit(rated: float = 0.03, touch_voltage: float = 50.0) -> float:
    """Return the largest earth loop resistance with an RCD. [ohm]

    rated : rated residual current, 0.001 to 1. [A]
    touch_voltage : highest touch voltage, 1 to 120. [V]

    Raises OutOfRange outside these ranges.
    Source: BS 7671 Table 41.5, by a thread at engx.theiet.org: 1667 ohm for 30 mA.
    """
    return touch_voltage / rated


@checked(VALUE, TOUCH_VOLTAGE)
def rated_of_earth_loop_limit(value: float, touch_voltage: float = 50.0) -> float:
    """Return the rated current whose limit is `value` [ohm]. [A]"""
    return touch_voltage / value


QUANTITY = Quantity(
    id="earth-loop-limit",
    meaning="largest earth loop resistance with an RCD",
    unit="ohm",
    inputs=(RATED, TOUCH_VOLTAGE),
    compute=earth_loop_limit,
    inverses={"rated": rated_of_earth_loop_limit},
    formula="Zs = 50 V / rated current",
    source="BS 7671 Table 41.5, by a thread at engx.theiet.org: 1667 ohm for 30 mA",
    worked=(Worked({}, 1667.0, 1.0, "printed: 1667 ohm"),),
    hazard="high-voltage",
)
