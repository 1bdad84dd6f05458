"""Extra resistance between plug and inlet: the car sees a plug of more ohms."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect, Span
from diagtree.physics.defects.proximity_loop import ProximityLoop
from diagtree.physics.proximity_circuit import OPEN_ABOVE, PULL_UP


def _change(loop: ProximityLoop, value: float) -> ProximityLoop:
    return replace(loop, contact=value)


def _span(_: ProximityLoop) -> Span:
    return Span(low=0.0, high=OPEN_ABOVE, middle=PULL_UP, nothing=0.0)


DEFECT = Defect(
    id="contact-resistance",
    name="extra resistance between plug and inlet",
    change=_change,
    span=_span,
    remedy="Look at the contacts of proximity and earth in plug and inlet.",
)
