"""Quantities that are limits themselves: a reading is set against what they compute to."""

from __future__ import annotations

from math import inf

from diagtree.physics.standing import Asked, Limit, Limits

LOWER = frozenset({"supply-lowest", "pilot-low", "rcd-no-trip-current"})
LOWER_FOR_SAFETY = frozenset({"insulation-minimum"})
UPPER = frozenset({"supply-highest", "pilot-high", "overvoltage-trip", "cold-soak-limit", "stage-time-out"})
UPPER_FOR_SAFETY = frozenset(
    {
        "breaker-loop-limit", "discharge-resistance", "earth-loop-limit", "energy-limit-voltage",
        "rcd-trip-current", "rcd-trip-time", "y-capacitance-limit",
    }
)  # fmt: skip


def find(asked: Asked) -> tuple[Limit, ...]:
    """Return the computed value as a limit, where there is a reading to be set against it."""
    if not asked.is_reading:
        return ()
    name, safety = "the computed limit", asked.one.id in LOWER_FOR_SAFETY | UPPER_FOR_SAFETY
    lower = asked.one.id in LOWER | LOWER_FOR_SAFETY
    low, high = (asked.computed, inf) if lower else (-inf, asked.computed)
    return (Limit(low, high, name, asked.one.source, safety, moves=True),)


LIMITS = Limits(LOWER | LOWER_FOR_SAFETY | UPPER | UPPER_FOR_SAFETY, find)
