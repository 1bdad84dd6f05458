"""Leakage from pilot to earth before the diode: every level is drawn towards 0, the negative one first."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from diagtree.physics.defects.defect import Defect, Span
from diagtree.physics.defects.limits import SHORT_BELOW
from diagtree.physics.defects.pilot_loop import PilotLoop


def _change(loop: PilotLoop, value: float) -> PilotLoop:
    return replace(loop, leakage=value)


def _span(loop: PilotLoop) -> Span:
    return Span(low=SHORT_BELOW, high=inf, middle=loop.source_resistance, nothing=inf)


DEFECT = Defect(
    id="leakage",
    name="leakage from pilot to earth",
    change=_change,
    span=_span,
    remedy="Look for water or dirt in plug, inlet and cable, with the plug dried and with another cable.",
)
