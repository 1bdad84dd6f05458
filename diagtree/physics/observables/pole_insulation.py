"""Insulation of the poles of the high-voltage system."""

from __future__ import annotations

from diagtree.physics.ac_charge import pole_insulation
from diagtree.physics.assumed import POLE
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _pole(setup: Setup, pole: str) -> float:
    return pole_insulation(setup, pole, POLE.value)


OBSERVABLE = Observable(
    id="pole-insulation",
    kind="insulation",
    details=(("DC+", "DC-"),),
    unit="ohm",
    meaning="insulation of one pole of the high-voltage system to chassis",
    changed_by=("DC+", "DC-"),
    compute=_pole,
    source="Ohm's law",
    assumes="5 Mohm at each sound pole (estimate)",
    hazard="high-voltage",
)
