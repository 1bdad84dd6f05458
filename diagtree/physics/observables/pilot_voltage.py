"""Voltage of the control pilot."""

from __future__ import annotations

from diagtree.physics.observable import Observable
from diagtree.physics.observables.pilot_duty import duty
from diagtree.physics.pilot_circuit import ENDS, STATES
from diagtree.physics.setup import Setup
from diagtree.physics.signal_lines import pilot_voltage

NEGATIVE, AVERAGE = "negative half", "average"


def _level(setup: Setup, end: str, state: str, half: str) -> float:
    """Return the level of one half, or what a meter's DC range shows of the running wave. [V]"""
    there, asked = end.removesuffix(" end"), state.removeprefix("state ")
    high = pilot_voltage(setup, there, asked)
    # In state A the wave does not run: the level is steady.
    if not half or (half == AVERAGE and asked == "A"):
        return high
    low = pilot_voltage(setup, there, asked, "negative")
    if half == NEGATIVE:
        return low
    share = duty(setup, home=False) / 100.0
    return share * high + (1.0 - share) * low


OBSERVABLE = Observable(
    id="pilot-voltage",
    kind="voltage",
    details=(
        ("pilot",),
        tuple(f"{end} end" for end in ENDS),
        tuple(f"state {state}" for state in STATES),
        ("", NEGATIVE, AVERAGE),
    ),
    unit="V",
    meaning="level of the control pilot against earth while the car asks for a state: positive half if not said, "
    "negative half, or what a meter's DC range shows of the running wave",
    changed_by=("pilot", "inlet.connector"),
    compute=_level,
    source="IEC 61851-1 Annex A and SAE J1772, as given by open station firmware",
    hazard="live",
)
