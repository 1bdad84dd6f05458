"""The plug's resistor is another one than it should be."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect, Span
from diagtree.physics.defects.proximity_loop import ProximityLoop
from diagtree.physics.proximity_circuit import OPEN_ABOVE, PULL_UP


def _change(loop: ProximityLoop, value: float) -> ProximityLoop:
    return replace(loop, resistor=value)


def _span(loop: ProximityLoop) -> Span:
    return Span(low=0.0, high=OPEN_ABOVE, middle=PULL_UP, nothing=loop.resistor)


DEFECT = Defect(
    id="plug-resistor",
    name="wrong resistor in the plug",
    change=_change,
    span=_span,
    remedy="Measure the plug by itself; try another cable.",
)
