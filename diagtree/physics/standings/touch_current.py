"""Leakage to earth of a car that charges on AC."""

from __future__ import annotations

from math import inf

from diagtree.physics.data import KNOWN
from diagtree.physics.standing import Asked, Limit, Limits


def find(asked: Asked) -> tuple[Limit, ...]:  # noqa: ARG001 - one limit, whatever is asked
    """Return the limit of the touch current."""
    limit = KNOWN["touch current of a car that charges on AC, at most"]
    return (Limit(-inf, limit.value, "touch current on AC", f"{limit.source}, from memory", safety=True),)


LIMITS = Limits(frozenset({"capacitive-leakage"}), find)
