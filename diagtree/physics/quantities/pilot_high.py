"""Highest healthy voltage of the control pilot in a state, measured at the station."""

from __future__ import annotations

from diagtree.physics.data import PILOT_BANDS
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

STATE = Input("state", "word", "state of the control pilot", words=tuple(PILOT_BANDS))


@checked(STATE)
def pilot_high(state: str) -> float:
    """Return the highest voltage that counts as healthy in a state, measured at the station. [V]

    state : A, B, C, D or F. State E, 0 V, has no band.

    Raises OutOfRange for another state.
    Source: SAE J1772, as given by an open firmware header; IEC 61851-1 differs by 0.04 V at most (from memory).
    """
    return PILOT_BANDS[state].highest


QUANTITY = Quantity(
    id="pilot-high",
    meaning="highest healthy voltage of the control pilot at the station",
    unit="V",
    inputs=(STATE,),
    compute=pilot_high,
    formula="table: A 11.40-12.60, B 8.36-9.56, C 5.48-6.49, D 2.62-3.25, F -12.60 to -11.40 V",
    source="SAE J1772, by the open firmware header J1772.h",
    worked=(
        Worked({"state": "B"}, 9.56, 0.0, "printed in that header"),
        Worked({"state": "C"}, 6.49, 0.0, "printed in that header"),
        Worked({"state": "F"}, -11.4, 0.0, "printed in that header"),
    ),
    hazard="live",
)
