"""Voltage of the control pilot."""

from __future__ import annotations

from diagtree.physics.observable import Observable
from diagtree.physics.pilot_circuit import ENDS, STATES
from diagtree.physics.setup import Setup
from diagtree.physics.signal_lines import pilot_voltage

NEGATIVE = "negative half"


def _level(setup: Setup, end: str, state: str, half: str) -> float:
    return pilot_voltage(setup, end.split()[0], state.split()[1], "negative" if half else "positive")


OBSERVABLE = Observable(
    id="pilot-voltage",
    kind="voltage",
    details=(
        ("pilot",),
        tuple(f"{end} end" for end in ENDS),
        tuple(f"state {state}" for state in STATES),
        ("", NEGATIVE),
    ),
    unit="V",
    meaning="level of the control pilot against earth while the car asks for a state; the positive half if not said",
    changed_by=("pilot", "inlet.connector"),
    compute=_level,
    source="IEC 61851-1 Annex A and SAE J1772, as given by open station firmware",
    hazard="live",
)
