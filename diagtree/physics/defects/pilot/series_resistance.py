"""Extra resistance in the loop of pilot and protective earth: the station reads high, the car low."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect, Span
from diagtree.physics.defects.limits import STATE_A_FROM
from diagtree.physics.defects.pilot_loop import PilotLoop


def _change(loop: PilotLoop, value: float) -> PilotLoop:
    return replace(loop, series=value)


def _span(loop: PilotLoop) -> Span:
    return Span(low=0.0, high=STATE_A_FROM, middle=loop.source_resistance, nothing=0.0)


DEFECT = Defect(
    id="series-resistance",
    name="series resistance in the loop of pilot and protective earth",
    change=_change,
    span=_span,
    remedy="Look at the contacts of pilot and protective earth in plug and inlet, and at the cable's conductors.",
)
