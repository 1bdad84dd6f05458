"""The car's proximity contact is shorted to earth: below what counts as any plug."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect, Span
from diagtree.physics.defects.proximity_loop import ProximityLoop
from diagtree.physics.proximity_circuit import PULL_UP, SHORTED_BELOW


def _change(loop: ProximityLoop, value: float) -> ProximityLoop:
    return replace(loop, leakage=value)


def _span(_: ProximityLoop) -> Span:
    return Span(low=0.0, high=SHORTED_BELOW, middle=PULL_UP, nothing=None)


DEFECT = Defect(
    id="shorted-to-earth",
    name="proximity contact shorted to earth",
    change=_change,
    span=_span,
    remedy="Look for a wire against the body between inlet and controller.",
)
