"""A pair of contacts in a charge inlet."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="contact",
    meaning="worn contact in the charge inlet",
    names=("inlet.ac_contact", "inlet.dc_contact"),
    modes=(
        # What a worn contact does is told by its heat: the same milliohms do little at 16 A and much at 32 A. The span
        # is fitted to what the catalogue states of worn contacts (estimate).
        Mode("worn", "so much heat in it at the car's full current", "W", 0.0, 500.0, usual=(5.4, 32.0)),
        Mode("resistance", "resistance of the one bad contact", "ohm", 0.0, 10.0),
    ),
    number="resistance",
)
