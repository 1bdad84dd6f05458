"""Leakage from pilot to earth in the car: an unplugged station or cable reads healthy."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from diagtree.physics.defects.defect import Defect, Span
from diagtree.physics.defects.limits import SHORT_BELOW
from diagtree.physics.defects.pilot_loop import PilotLoop


def _change(loop: PilotLoop, value: float) -> PilotLoop:
    return replace(loop, leakage=value, in_car=True)


def _span(loop: PilotLoop) -> Span:
    return Span(low=SHORT_BELOW, high=inf, middle=loop.source_resistance, nothing=inf)


DEFECT = Defect(
    id="leakage-in-car",
    name="leakage from pilot to earth in the car",
    change=_change,
    span=_span,
    remedy="Look for water or dirt in the car's inlet and at its low-voltage connector.",
    variant_of="leakage",
)
