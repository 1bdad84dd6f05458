"""Residual current of the car while it is plugged in."""

from __future__ import annotations

from diagtree.physics.ac_charge import residual
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _residual(setup: Setup, kind: str) -> float:
    return residual(setup) if kind == "ac" else setup.value("charger", "dc-leakage", 0.0)


OBSERVABLE = Observable(
    id="residual-current",
    kind="current",
    details=(("residual",), ("ac", "dc")),
    unit="A",
    meaning="residual current of the car while it charges: alternating and smooth part",
    changed_by=("inlet.ac_lead", "charger"),
    compute=_residual,
    source="Ohm's law; current of a capacitor",
    assumes="10 nF of filters to earth (estimate)",
    hazard="high-voltage",
)
