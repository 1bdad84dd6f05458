"""Current of a phase while the car charges on AC."""

from __future__ import annotations

from diagtree.physics.ac_charge import CAR, OUTSIDE, PHASES, currents
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _current(setup: Setup, phase: str, place: str) -> float:
    return currents(setup, home=bool(place))[phase]


OBSERVABLE = Observable(
    id="ac-current",
    kind="current",
    details=(("ac",), PHASES, ("", "at home")),
    unit="A",
    meaning="current of a phase while the car charges on AC, at the workshop's or the owner's point",
    changed_by=(*CAR, *OUTSIDE),
    compute=_current,
    source="IEC 61851-1: the least of what car, cable and charge point allow",
    hazard="live",
)
