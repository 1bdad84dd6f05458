"""Pilot shorted to earth: less than what the station still takes for state E, 0 V."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect, Span
from diagtree.physics.defects.limits import SHORT_BELOW
from diagtree.physics.defects.pilot_loop import PilotLoop


def _change(loop: PilotLoop, value: float) -> PilotLoop:
    return replace(loop, leakage=value)


def _span(loop: PilotLoop) -> Span:
    return Span(low=0.0, high=SHORT_BELOW, middle=loop.source_resistance, nothing=None)


DEFECT = Defect(
    id="shorted-to-earth",
    name="pilot shorted to earth",
    change=_change,
    span=_span,
    remedy="Look for a crushed cable, a bent pin or a wire against the body.",
)
