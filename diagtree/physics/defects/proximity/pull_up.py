"""The car's resistor to its 5 V supply is another one than it should be; open, the contact reads 0 V."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from diagtree.physics.defects.defect import Defect, Span
from diagtree.physics.defects.proximity_loop import ProximityLoop
from diagtree.physics.proximity_circuit import PULL_UP


def _change(loop: ProximityLoop, value: float) -> ProximityLoop:
    return replace(loop, pull_up=value)


def _span(loop: ProximityLoop) -> Span:
    return Span(low=10.0, high=inf, middle=PULL_UP, nothing=loop.pull_up)


DEFECT = Defect(
    id="pull-up",
    name="car's resistor to its supply (330 ohm) wrong",
    change=_change,
    span=_span,
    remedy="The resistor sits in the car's charging controller.",
)
