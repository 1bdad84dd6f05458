"""Levels of the control pilot, by state."""

from __future__ import annotations

from diagtree.physics.data import PILOT_BANDS, PILOT_WINDOWS
from diagtree.physics.quantity import Value
from diagtree.physics.standing import Asked, Limit, Limits, Meaning

HEALTHY = "SAE J1772, by the open firmware header J1772.h"
RECOGNISED = "IEC 61851-1 Table A.3, by a charge controller's manual"


def _state(inputs: dict[str, Value]) -> str:
    # The negative level of a running pilot is that of state F, whatever the state.
    return "F" if inputs["half"] == "negative" else str(inputs["state"])


def find(asked: Asked) -> tuple[Limit, ...]:
    """Return the healthy band and the window in which the state is still recognised."""
    state, name = _state(dict(asked.inputs)), f"state {asked.inputs['state']}"
    if asked.inputs["half"] == "negative" and asked.inputs["state"] != "F":
        name = "negative level"
    window = PILOT_WINDOWS[state]
    if asked.inputs["end"] == "vehicle" and state == "A":
        return ()  # with nothing plugged in the car's pin sees no station
    found = [Limit(window.lowest, window.highest, f"{name}, recognised", RECOGNISED)]
    if state in PILOT_BANDS:
        band = PILOT_BANDS[state]
        found.insert(0, Limit(band.lowest, band.highest, f"{name}, healthy", HEALTHY))
    return tuple(found)


def meaning(asked: Asked) -> Meaning | None:
    """Return what state the level means."""
    if asked.inputs["half"] == "negative" or not -20.0 <= asked.judged <= 20.0:
        return None
    return "pilot-state", {"voltage": asked.judged, "end": asked.inputs["end"]}


LIMITS = Limits(frozenset({"pilot-voltage"}), find, meaning)
