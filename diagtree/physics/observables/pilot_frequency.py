"""Frequency of the control pilot."""

from __future__ import annotations

from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup

NOMINAL = 1000.0
"""Frequency of the pilot. [Hz]"""


def _frequency(setup: Setup, place: str) -> float:
    still = ("dead", "no-pilot", "steady-pilot", "held-back")
    return 0.0 if place and setup.has("charge_point", *still) else NOMINAL


OBSERVABLE = Observable(
    id="pilot-frequency",
    kind="frequency",
    details=(("pilot",), ("", "at home")),
    unit="Hz",
    meaning="frequency of the control pilot; 0: it stands still",
    changed_by=("charge_point",),
    compute=_frequency,
    source="IEC 61851-1: 1 kHz",
    hazard="live",
)
