"""Resistance of a contact in the inlet."""

from __future__ import annotations

from diagtree.physics.ac_charge import contact_resistance
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _contact(setup: Setup, contact: str) -> float:
    return contact_resistance(setup, "ac" if contact == "inlet.ac_contact" else "dc")


OBSERVABLE = Observable(
    id="contact-resistance",
    kind="resistance",
    details=(("inlet.ac_contact", "inlet.dc_contact"),),
    unit="ohm",
    meaning="resistance of the worst contact of the inlet, gauge plug in, four-wire",
    changed_by=("inlet.ac_contact", "inlet.dc_contact"),
    compute=_contact,
    source="Joule's law for a contact that is told by its heat",
    assumes="a sound contact has 0.3 milliohm (estimate)",
    hazard="high-voltage",
)
