"""Small resistances: the drop of one connection, and the bonding of conductive parts to the chassis."""

from __future__ import annotations

from math import inf

from diagtree.physics.data import BONDING_CURRENT, BONDING_RESISTANCE, KNOWN
from diagtree.physics.standing import Asked, Limit, Limits


def find(asked: Asked) -> tuple[Limit, ...]:
    """Return the limit of the drop, or of the resistance where it was measured with enough current."""
    if asked.one.id == "contact-drop":
        drop = KNOWN["voltage drop of one connection under load, at most"]
        return (Limit(-inf, drop.value, "one connection of the 12 V supply under load", f"{drop.source}, from memory"),)
    current = asked.inputs["current"]
    if not isinstance(current, float) or current < BONDING_CURRENT.value:
        return ()
    name = "bonding of a conductive part to chassis, if it is one"
    return (Limit(-inf, BONDING_RESISTANCE.value, name, BONDING_RESISTANCE.source, safety=True),)


LIMITS = Limits(frozenset({"contact-drop", "four-wire-resistance"}), find)
