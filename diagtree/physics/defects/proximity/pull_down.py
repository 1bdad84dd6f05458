"""The car's resistor to earth has risen or is open; less than it should be reads like a leakage."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from diagtree.physics.defects.defect import Defect, Span
from diagtree.physics.defects.proximity_loop import ProximityLoop
from diagtree.physics.proximity_circuit import PULL_UP


def _change(loop: ProximityLoop, value: float) -> ProximityLoop:
    return replace(loop, pull_down=value)


def _span(loop: ProximityLoop) -> Span:
    return Span(low=loop.pull_down, high=inf, middle=PULL_UP, nothing=loop.pull_down)


DEFECT = Defect(
    id="pull-down",
    name="car's resistor to earth too high or open",
    change=_change,
    span=_span,
    remedy="The resistor sits in the car's charging controller or in the inlet.",
)
