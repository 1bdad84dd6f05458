"""Leakage from the car's proximity contact to earth: seen with an empty inlet too."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from diagtree.physics.defects.defect import Defect, Span
from diagtree.physics.defects.proximity_loop import ProximityLoop
from diagtree.physics.proximity_circuit import PULL_UP, SHORTED_BELOW


def _change(loop: ProximityLoop, value: float) -> ProximityLoop:
    return replace(loop, leakage=value)


def _span(_: ProximityLoop) -> Span:
    return Span(low=SHORTED_BELOW, high=inf, middle=PULL_UP, nothing=inf)


DEFECT = Defect(
    id="leakage",
    name="leakage from the proximity contact to earth",
    change=_change,
    span=_span,
    remedy="Look for water or dirt in the inlet and at its low-voltage connector.",
)
