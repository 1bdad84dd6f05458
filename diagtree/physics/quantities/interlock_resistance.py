"""Resistance of an interlock loop of connectors with resistors."""

from __future__ import annotations

import math

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

CONNECTORS = Input("connectors", "", "connectors in series", 0.0, 100.0, whole=True)
EACH = Input("each", "ohm", "resistance in each connector", 0.0, 100000.0, 50.0)
VALUE = Input("value", "ohm", "resistance of an interlock loop", 0.0, 1e8)


@checked(CONNECTORS, EACH)
def interlock_resistance(connectors: float, each: float = 50.0) -> float:
    """Return the resistance of an interlock loop. [ohm]

    connectors : connectors in series, 0 to 100. [-]
    each : resistance in each connector, 0 to 100000. [ohm]

    Raises OutOfRange outside these ranges.
    Source: interlock reference design TIDUF61 (2024): four connectors of 50 ohm.
    """
    return connectors * each


@checked(VALUE, EACH)
def connectors_of_interlock_resistance(value: float, each: float = 50.0) -> float:
    """Return the number of connectors that make `value` [ohm]. [-]"""
    return value / each if each > 0.0 else math.inf


QUANTITY = Quantity(
    id="interlock-resistance",
    meaning="resistance of an interlock loop",
    unit="ohm",
    inputs=(CONNECTORS, EACH),
    compute=interlock_resistance,
    inverses={"connectors": connectors_of_interlock_resistance},
    formula="R = n Reach",
    source="interlock reference design TIDUF61 (2024): four connectors of 50 ohm",
    worked=(Worked({"connectors": 4.0}, 200.0, 0.0, "printed in that design"),),
)
