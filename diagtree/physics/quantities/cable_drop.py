"""Voltage drop along a copper cable, there and back."""

from __future__ import annotations

import math

from diagtree.physics.data import COPPER
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

LENGTH = Input("length", "m", "length of the cable, one way", 0.0, 1000.0)
AREA = Input("area", "mm2", "cross-section of one conductor, copper", 0.1, 500.0)
CURRENT = Input("current", "A", "current per phase", 0.0, 1000.0)
VALUE = Input("value", "V", "voltage drop along a copper cable, there and back", 0.0, 1e7)


@checked(LENGTH, AREA, CURRENT)
def cable_drop(length: float, area: float, current: float) -> float:
    """Return the voltage drop along a copper cable, there and back. [V]

    length : length of the cable, one way, 0 to 1000. [m]
    area : cross-section of one conductor, copper, 0.1 to 500. [mm2]
    current : current per phase, 0 to 1000. [A]

    Raises OutOfRange outside these ranges.
    Source: resistivity of copper at about 20 degC, from memory.
    """
    return COPPER.value * 2.0 * length / area * current


@checked(VALUE, AREA, CURRENT)
def length_of_cable_drop(value: float, area: float, current: float) -> float:
    """Return the length of a cable with the drop `value` [V]. [m]"""
    return value * area / (2.0 * COPPER.value * current) if current > 0.0 else math.inf


QUANTITY = Quantity(
    id="cable-drop",
    meaning="voltage drop along a copper cable, there and back",
    unit="V",
    inputs=(LENGTH, AREA, CURRENT),
    compute=cable_drop,
    inverses={"length": length_of_cable_drop},
    formula="U = 0.0175 ohm mm2/m * 2 L / A * I",
    source="resistivity of copper at about 20 degC, from memory",
    worked=(Worked({"length": 5.0, "area": 6.0, "current": 32.0}, 0.933, 0.001, "computed; resistivity from memory"),),
    hazard="high-voltage",
)
