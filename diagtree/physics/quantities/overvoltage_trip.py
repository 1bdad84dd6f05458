"""Voltage at which a DC station must shut down."""

from __future__ import annotations

from diagtree.physics.data import OVERVOLTAGE_TRIPS
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

NEGOTIATED = Input("negotiated", "V", "highest voltage agreed for the session", 0.0, 1000.0)


@checked(NEGOTIATED)
def overvoltage_trip(negotiated: float) -> float:
    """Return the voltage at which a DC station must shut down. [V]

    negotiated : highest voltage agreed for the session, 0 to 1000. [V]

    Raises OutOfRange outside these ranges.
    Source: IEC 61851-23:2023, 6.3.1.106, Table 103, by the EVerest charging-station stack.
    """
    return next(trip for highest, trip in OVERVOLTAGE_TRIPS if negotiated <= highest)


QUANTITY = Quantity(
    id="overvoltage-trip",
    meaning="voltage at which a DC station must shut down",
    unit="V",
    inputs=(NEGOTIATED,),
    compute=overvoltage_trip,
    formula="550 V up to 500 V; 825 up to 750; 935 up to 850; 1100 above",
    source="IEC 61851-23:2023, 6.3.1.106, Table 103, by the EVerest charging-station stack",
    worked=(
        Worked({"negotiated": 450.0}, 550.0, 0.0, "printed in that stack"),
        Worked({"negotiated": 800.0}, 935.0, 0.0, "printed in that stack"),
    ),
    hazard="high-voltage",
)
