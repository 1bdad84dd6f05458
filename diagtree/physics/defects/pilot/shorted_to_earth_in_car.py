"""Pilot shorted to earth in the car: an unplugged station or cable reads healthy."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect, Span
from diagtree.physics.defects.limits import SHORT_BELOW
from diagtree.physics.defects.pilot_loop import PilotLoop


def _change(loop: PilotLoop, value: float) -> PilotLoop:
    return replace(loop, leakage=value, in_car=True)


def _span(loop: PilotLoop) -> Span:
    return Span(low=0.0, high=SHORT_BELOW, middle=loop.source_resistance, nothing=None)


DEFECT = Defect(
    id="shorted-to-earth-in-car",
    name="pilot shorted to earth in the car",
    change=_change,
    span=_span,
    remedy="Look for a pilot wire against the body between inlet and charging controller.",
    variant_of="shorted-to-earth",
)
