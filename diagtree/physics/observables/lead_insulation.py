"""Insulation of the AC wires behind the inlet."""

from __future__ import annotations

from diagtree.physics.ac_charge import lead_insulation
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _lead(setup: Setup) -> float:
    return lead_insulation(setup)


OBSERVABLE = Observable(
    id="lead-insulation",
    kind="insulation",
    details=(("inlet.ac_lead",),),
    unit="ohm",
    meaning="phases and neutral of the unplugged AC lead against earth",
    changed_by=("inlet.ac_lead",),
    compute=_lead,
    source="Ohm's law",
    assumes="50 Mohm in a sound lead (estimate)",
    hazard="high-voltage",
)
