"""Mains voltage that the on-board charger reads."""

from __future__ import annotations

from diagtree.physics.ac_charge import CAR, OUTSIDE, PHASES, phases, voltage_at_charger
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _input(setup: Setup, phase: str, place: str) -> float:
    if phase == "lowest":
        return min(_input(setup, one, place) for one in phases(setup))
    return voltage_at_charger(setup, phase, home=bool(place))


OBSERVABLE = Observable(
    id="charger-voltage",
    kind="voltage",
    details=(("charger",), (*PHASES, "lowest"), ("", "at home")),
    unit="V",
    meaning="AC voltage that the charger reads while the car is plugged in, at the workshop's or the owner's point",
    changed_by=(*CAR, *OUTSIDE),
    compute=_input,
    source="IEC 60038; Ohm's law; the mains comes on where pilot, plug, sensors and insulation allow it",
    hazard="live",
)
