"""Power of the AC charge."""

from __future__ import annotations

from diagtree.physics.ac_charge import CAR, CHARGING, HALF, OUTSIDE, power
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup

SETTLED = {"": (5.0, 1.0), HALF: (5.0, 0.5), **CHARGING}
"""A charge is looked at after 5 minutes, where the name does not say. [min, -]"""


def _power(setup: Setup, place: str, charging: str) -> float:
    minutes, share = SETTLED[charging]
    return power(setup, minutes, home=bool(place), share=share)


OBSERVABLE = Observable(
    id="ac-power",
    kind="power",
    details=(("ac",), ("", "at home"), tuple(SETTLED)),
    unit="W",
    meaning="power at the plug after so long (5 minutes if not said), at the workshop's or the owner's point",
    changed_by=(*CAR, *OUTSIDE, "charger.cooling", "inlet.ac_contact"),
    compute=_power,
    source="P = sum of U I over the phases, power factor 1",
    hazard="live",
)
