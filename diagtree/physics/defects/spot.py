"""Where and when a circuit is read: one spot is one number that a meter can show.

A spot has the name of an observable, such as `voltage(pilot, vehicle end, state C)`.
"""

from __future__ import annotations

import re

from diagtree.physics.pilot_circuit import CONNECTED
from diagtree.physics.ranges import plain
from diagtree.records import dataclass

PILOT, PROXIMITY = "pilot", "proximity"
CIRCUITS = (PILOT, PROXIMITY)
PILOT_STATES = ("A", *CONNECTED)
"""States that tell something of the circuit; E is 0 V whatever is wrong, F is the negative half of the wave."""
PLUG_STATES = ("empty", "latched", "unlatched")
"""Nothing plugged in; plugged in; plugged in with the release button of a type 1 plug pressed."""

OTHER_WORDS = {
    "unplugged": "empty",
    "nothing plugged in": "empty",
    "plugged": "latched",
    "plugged in": "latched",
    "pressed": "unlatched",
    "button pressed": "unlatched",
}
"""What else the states of a plug are called."""

_SHAPE = re.compile(r"\s*(voltage|resistance)\(\s*(pilot|proximity)\s*,(.*)\)\s*")
_DUTY = re.compile(r"(?:average at|duty) ([0-9]+(?:\.[0-9]+)?) ?(?:%|percent|per cent)")


@dataclass(frozen=True, slots=True)
class Spot:
    """One number that a meter can show.

    circuit : pilot or proximity. unit : V, or ohm (only the plug by itself, unplugged).
    end : station, vehicle or plug. state : A to D; or empty, latched, unlatched.
    half : of the pilot's wave, or its steady level.
    duty : per cent of the period that the wave is high, where a meter's DC range shows the average; else None.
    """

    circuit: str
    unit: str
    end: str
    state: str
    half: str = "positive"
    duty: float | None = None

    @property
    def name(self) -> str:
        """The observable's name."""
        if self.unit == "ohm":
            return f"resistance({self.circuit}, {self.end}{', unlatched' if self.state == 'unlatched' else ''})"
        details = [f"{self.end} end", f"state {self.state}" if self.circuit == PILOT else self.state]
        if self.duty is not None:
            details.append(f"average at {plain(self.duty)} percent")
        elif self.half == "negative":
            details.append("negative half")
        return f"voltage({self.circuit}, {', '.join(details)})"


SPOTS = {
    PILOT: (
        Spot(PILOT, "V", "station", "A"),
        Spot(PILOT, "V", "station", "B"),
        Spot(PILOT, "V", "station", "C"),
        Spot(PILOT, "V", "station", "C", "negative"),
        Spot(PILOT, "V", "vehicle", "B"),
        Spot(PILOT, "V", "vehicle", "C"),
        Spot(PILOT, "V", "vehicle", "C", "negative"),
    ),
    PROXIMITY: (
        *(Spot(PROXIMITY, "V", "vehicle", state) for state in PLUG_STATES),
        *(Spot(PROXIMITY, "ohm", "plug", state) for state in PLUG_STATES[1:]),
    ),
}
"""What is usually read of a circuit."""


def spot_named(name: str) -> Spot | None:
    """Return the spot that an observable's name means; None where it is nothing of these two circuits."""
    found = _SHAPE.fullmatch(name)
    if found is None:
        return None
    kind, circuit, rest = found.groups()
    details = [" ".join(part.split()) for part in rest.split(",")]
    if kind == "resistance":
        return _plug_by_itself(circuit, details)
    return _pilot(details) if circuit == PILOT else _proximity(details)


def _plug_by_itself(circuit: str, details: list[str]) -> Spot | None:
    state = _plug_state(details[1:] or ["latched"])
    if circuit != PROXIMITY or details[0] != "plug" or state in (None, "empty"):
        return None
    return Spot(PROXIMITY, "ohm", "plug", state or "latched")


def _pilot(details: list[str]) -> Spot | None:
    end = state = duty = None
    half = "positive"
    for detail in details:
        average = _DUTY.fullmatch(detail)
        if detail in ("station end", "vehicle end"):
            end = detail.removesuffix(" end")
        elif detail.startswith("state ") and detail.removeprefix("state ") in PILOT_STATES:
            state = detail.removeprefix("state ")
        elif detail in ("positive half", "negative half"):
            half = detail.removesuffix(" half")
        elif average is not None:
            duty = float(average[1])
        else:
            return None
    if end is None or state is None or (end == "vehicle" and state == "A"):
        return None
    return Spot(PILOT, "V", end, state, half, duty)


def _proximity(details: list[str]) -> Spot | None:
    state = _plug_state(details[1:])
    return Spot(PROXIMITY, "V", "vehicle", state) if details[0] == "vehicle end" and state is not None else None


def _plug_state(details: list[str]) -> str | None:
    if len(details) != 1:
        return None
    word = OTHER_WORDS.get(details[0], details[0])
    return word if word in PLUG_STATES else None
