"""Temperature of a contact in the inlet while it charges."""

from __future__ import annotations

from diagtree.physics.ac_charge import CAR, CHARGING, contact_temperature, currents
from diagtree.physics.dc_charge import STOPS, dc_current
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _contact(setup: Setup, contact: str, charging: str) -> float:
    minutes, share = CHARGING[charging]
    if contact == "inlet.dc_contact":
        flowing = share * dc_current(setup)
        return contact_temperature(setup, "dc", minutes, flowing)
    flowing = max(currents(setup, home=False, share=share).values())
    return contact_temperature(setup, "ac", minutes, flowing)


OBSERVABLE = Observable(
    id="contact-temperature",
    kind="temperature",
    details=(("inlet.ac_contact", "inlet.dc_contact"), tuple(CHARGING)),
    unit="degC",
    meaning="hottest contact of the inlet after so long at full or half current",
    changed_by=(*CAR, *STOPS, "inlet.ac_contact", "inlet.dc_contact"),
    compute=_contact,
    source="first-order thermal model (common physics)",
    assumes="4 K/W and 600 s for a contact; a sound inlet settles 10 K above the air at full current (estimates)",
    hazard="live",
)
