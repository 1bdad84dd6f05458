"""Share of the energy from the plug that reaches the battery."""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked, plain

SUPPLIED = Input("supplied", "Wh", "energy taken at the plug", 0.001, 1e6)
STORED = Input("stored", "Wh", "energy into the battery", 0.0, 1e6)
VALUE = Input("value", "", "share of the energy from the plug that reaches the battery", 0.0, 1.0)


@checked(SUPPLIED, STORED)
def charging_efficiency(supplied: float, stored: float) -> float:
    """Return the share of the energy from the plug that reaches the battery. [-]

    supplied : energy taken at the plug, 0.001 to 1e6. [Wh]
    stored : energy into the battery, 0 to 1e6. [Wh]

    Raises OutOfRange outside these ranges or where more is stored than supplied.
    Source: definition of efficiency.
    """
    if stored > supplied:
        raise OutOfRange(f"`stored` = {plain(stored)} Wh is more than the {plain(supplied)} Wh supplied: swap them")
    return stored / supplied


@checked(VALUE, SUPPLIED)
def stored_of_charging_efficiency(value: float, supplied: float) -> float:
    """Return the energy into the battery at the efficiency `value`. [Wh]"""
    return value * supplied


QUANTITY = Quantity(
    id="charging-efficiency",
    meaning="share of the energy from the plug that reaches the battery",
    unit="",
    inputs=(SUPPLIED, STORED),
    compute=charging_efficiency,
    inverses={"stored": stored_of_charging_efficiency},
    formula="eta = E_battery / E_plug",
    source="definition; 0.85 to 0.97 is plausible above 3 kW, 0.75 to 0.97 below (our assumption)",
    worked=(Worked({"supplied": 10600.0, "stored": 9500.0}, 0.8962, 0.001, "computed"),),
)
