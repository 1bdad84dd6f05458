"""Difference of the cell voltages."""

from __future__ import annotations

from diagtree.physics.assumed import CELL_SPREAD
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _spread(setup: Setup) -> float:
    return CELL_SPREAD.value + setup.value("battery", "cell-low", 0.0)


OBSERVABLE = Observable(
    id="cell-spread",
    kind="voltage",
    details=(("cells",), ("spread",)),
    unit="V",
    meaning="highest less lowest cell voltage at rest",
    changed_by=("battery",),
    compute=_spread,
    source="common practice",
    assumes="8 mV in a healthy pack (estimate)",
    hazard="live",
)
