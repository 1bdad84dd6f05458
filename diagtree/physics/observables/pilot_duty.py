"""Duty cycle of the control pilot."""

from __future__ import annotations

from diagtree.physics.ac_charge import full_current, offer
from diagtree.physics.assumed import LEAST_OFFER
from diagtree.physics.observable import Observable
from diagtree.physics.pilot_duty_rule import duty_of_current
from diagtree.physics.setup import Setup

STEADY = 100.0
"""A pilot that stands still at its positive level. [percent]"""


def _duty(setup: Setup, place: str) -> float:
    return duty(setup, home=bool(place))


def duty(setup: Setup, *, home: bool) -> float:
    """Return the duty cycle at the workshop's or the owner's charge point. [percent]"""
    if home and setup.has("charge_point", "dead", "no-pilot"):
        return 0.0
    if home and setup.has("charge_point", "steady-pilot", "held-back"):
        return STEADY
    offered = offer(setup, home=home)
    if offered < LEAST_OFFER.value:
        return STEADY
    # A point that offers more than the car takes: what is seen is at least the car's own current.
    current = min(offered, 80.0) if offered < 1000.0 else full_current(setup)
    return duty_of_current(max(52.5, current) if 51.0 < current < 52.5 else current)


OBSERVABLE = Observable(
    id="pilot-duty",
    kind="duty",
    details=(("pilot",), ("", "at home")),
    unit="percent",
    meaning="share of the pilot's period spent high; 100 percent: steady, no offer",
    changed_by=("charge_point", "plug"),
    compute=_duty,
    source="IEC 61851-1 Annex A",
    hazard="live",
)
