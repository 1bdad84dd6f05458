"""Insulation of the owner's cable."""

from __future__ import annotations

from diagtree.physics.assumed import INSULATION
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _cable(setup: Setup) -> float:
    return setup.value("cable", "leakage", INSULATION.value)


OBSERVABLE = Observable(
    id="cable-insulation",
    kind="insulation",
    details=(("cable",),),
    unit="ohm",
    meaning="phases and neutral of the unplugged cable against its earth",
    changed_by=("cable",),
    compute=_cable,
    source="Ohm's law",
    assumes="50 Mohm in a sound cable (estimate)",
    hazard="high-voltage",
)
