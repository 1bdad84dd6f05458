"""Heat at a contact: the temperature at which DC charging stops, and the rise that the standard allows."""

from __future__ import annotations

from math import inf

from diagtree.physics.data import CONTACT_RISE, CONTACT_STOP
from diagtree.physics.standing import Asked, Limit, Limits

TEMPERATURES = frozenset({"contact-end-temperature", "contact-temperature", "forecast-temperature"})


def find(asked: Asked) -> tuple[Limit, ...]:
    """Return the limit of the temperature or of the rise."""
    if asked.one.id in TEMPERATURES:
        return (Limit(-inf, CONTACT_STOP.value, "DC contact, charging stops above", CONTACT_STOP.source),)
    source = f"{CONTACT_RISE.source}, from memory"
    return (Limit(-inf, CONTACT_RISE.value, "rise of contacts at rated current", source),)


LIMITS = Limits(TEMPERATURES | {"contact-rise-at-current"}, find)
