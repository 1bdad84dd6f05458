"""Loop resistance of the owner's supply."""

from __future__ import annotations

from diagtree.physics.ac_charge import loop
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _loop(setup: Setup) -> float:
    return loop(setup)


OBSERVABLE = Observable(
    id="supply-loop",
    kind="resistance",
    details=(("supply",), ("loop",)),
    unit="ohm",
    meaning="line and neutral of the owner's supply together",
    changed_by=("supply",),
    compute=_loop,
    source="Ohm's law",
    assumes="0.3 ohm in a sound house (estimate)",
    hazard="high-voltage",
)
