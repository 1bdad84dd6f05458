"""Resistance of a copper cable, there and back."""

from __future__ import annotations

from diagtree.physics.data import COPPER
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

LENGTH = Input("length", "m", "length of the cable, one way", 0.0, 1000.0)
AREA = Input("area", "mm2", "cross-section of one conductor, copper", 0.1, 500.0)
VALUE = Input("value", "ohm", "resistance of a copper cable, there and back", 0.0, 10000.0)


@checked(LENGTH, AREA)
def cable_resistance(length: float, area: float) -> float:
    """Return the resistance of a copper cable, there and back. [ohm]

    length : length of the cable, one way, 0 to 1000. [m]
    area : cross-section of one conductor, copper, 0.1 to 500. [mm2]

    Raises OutOfRange outside these ranges.
    Source: resistivity of copper at about 20 degC, from memory.
    """
    return COPPER.value * 2.0 * length / area


@checked(VALUE, AREA)
def length_of_cable_resistance(value: float, area: float) -> float:
    """Return the length of a cable with the resistance `value` [ohm]. [m]"""
    return value * area / (2.0 * COPPER.value)


QUANTITY = Quantity(
    id="cable-resistance",
    meaning="resistance of a copper cable, there and back",
    unit="ohm",
    inputs=(LENGTH, AREA),
    compute=cable_resistance,
    inverses={"length": length_of_cable_resistance},
    formula="R = 0.0175 ohm mm2/m * 2 L / A",
    source="resistivity of copper at about 20 degC, from memory",
    worked=(Worked({"length": 5.0, "area": 6.0}, 0.02917, 0.0001, "computed; resistivity from memory"),),
)
