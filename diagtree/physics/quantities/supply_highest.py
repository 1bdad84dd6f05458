"""Highest voltage of a public supply in order."""

from __future__ import annotations

from diagtree.physics.data import SUPPLY_TOLERANCE
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

NOMINAL = Input("nominal", "V", "nominal voltage of one phase", 100.0, 1000.0, 230.0)
VALUE = Input("value", "V", "highest voltage of a public supply in order", 110.0, 1100.0)


@checked(NOMINAL)
def supply_highest(nominal: float = 230.0) -> float:
    """Return the highest voltage of a public supply in order. [V]

    nominal : nominal voltage of one phase, 100 to 1000. [V]

    Raises OutOfRange outside these ranges.
    Source: IEC 60038: 230 V +/-10 %.
    """
    return nominal * (1.0 + SUPPLY_TOLERANCE.value / 100.0)


@checked(VALUE)
def nominal_of_supply_highest(value: float) -> float:
    """Return the nominal voltage whose upper limit is `value` [V]. [V]"""
    return value / (1.0 + SUPPLY_TOLERANCE.value / 100.0)


QUANTITY = Quantity(
    id="supply-highest",
    meaning="highest voltage of a public supply in order",
    unit="V",
    inputs=(NOMINAL,),
    compute=supply_highest,
    inverses={"nominal": nominal_of_supply_highest},
    formula="U = 1.1 Un",
    source="IEC 60038: 230 V +/-10 %",
    worked=(Worked({}, 253.0, 1e-9, "IEC 60038, by eco-grid.eu"),),
    hazard="high-voltage",
)
