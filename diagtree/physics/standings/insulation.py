"""Insulation of a high-voltage bus that was measured by two voltages."""

from __future__ import annotations

from math import inf

from diagtree.physics.quantities.insulation_minimum import insulation_minimum
from diagtree.physics.standing import Asked, Limit, Limits

SOURCE = "UN Regulation 100, 5.1.3.1 and 5.1.3.2"


def find(asked: Asked) -> tuple[Limit, ...]:
    """Return the least insulation of the bus by itself and with AC parts connected, both at the bus voltage."""
    bus = _bus(asked)
    if not 0.0 <= bus <= 1500.0:
        return ()
    names = {"dc": "DC bus by itself, 100 ohm/V", "connected": "AC parts connected, 500 ohm/V"}
    return tuple(
        Limit(insulation_minimum(bus, circuit), inf, name, SOURCE, safety=True) for circuit, name in names.items()
    )


def _bus(asked: Asked) -> float:
    given = asked.inputs
    if "bus" in given:
        return _number(given["bus"])
    return _number(given["negative"]) + _number(given["positive"])


def _number(value: object) -> float:
    return value if isinstance(value, float) else -1.0


LIMITS = Limits(frozenset({"insulation-resistance", "insulation-resistance-us"}), find)
