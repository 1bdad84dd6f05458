"""Findings in words, the same at the bench and in a walk."""

from __future__ import annotations

from math import isinf

from diagtree.physics.defects.finding import NAMED, Explanation, Finding
from diagtree.physics.defects.spot import PILOT

NO_PROOF = "Only single defects are tried. A verdict is no proof that the circuit, or the car, is safe."


def circuit(found: Finding) -> str:
    """Return the circuit's name."""
    return "control pilot" if found.circuit == PILOT else "proximity contact"


def verdict(found: Finding) -> str:
    """Return the verdict in a few words, with the defect's value and interval."""
    if found.best is None:
        return "cannot tell"
    return "no defect shown by these readings" if found.verdict != NAMED else with_value(found.best)


def with_value(one: Explanation) -> str:
    """Return a defect's name with its value and 95 per cent interval, where it has them."""
    if one.value is None:
        return one.name
    bounds = "" if one.low is None else f" (95 %: {ohms(one.low)} to {ohms(one.high)})"
    return f"{one.name}: {ohms(one.value)}{bounds}"


def ohms(value: float | None) -> str:
    """Return a resistance in words, three digits: `302 ohm`, `10.4 kohm`, `open`."""
    if value is None:
        return ""
    if isinf(value):
        return "open"
    from diagtree.physics.units import engineering, unit

    return "0 ohm" if value < 0.05 else engineering(value, unit("ohm"), 3)
