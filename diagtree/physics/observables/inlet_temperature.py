"""The inlet's own temperature, by contact probe."""

from __future__ import annotations

from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _rim(setup: Setup) -> float:
    return setup.conditions.ambient


OBSERVABLE = Observable(
    id="inlet-temperature",
    kind="temperature",
    details=(("inlet",),),
    unit="degC",
    meaning="temperature of the inlet's rim after it has rested",
    changed_by=(),
    compute=_rim,
    source="what has rested has the temperature of the air",
)
