"""A temperature sensor of a profile in the words of a technician: `10 kohm NTC, beta 3435 K`."""

from __future__ import annotations

from collections.abc import Mapping

from diagtree.physics.quantity import Facts
from diagtree.physics.units import OHM, engineering


def sensor_words(sensor: Facts) -> str:
    """Return what a sensor is, by the facts of its profile; a fact that is no number is left out, never guessed."""
    kind = str(sensor.get("kind", "sensor"))
    if kind == "platinum":
        return _joined(f"platinum{_ohms(sensor, 'r0', ', ', ' at 0 degC')}", _listed(sensor, ("kind", "r0")))
    if kind == "ntc":
        beta = sensor.get("beta")
        told = f", beta {beta:g} K" if isinstance(beta, (int, float)) else ""
        named = _ohms(sensor, "r25", "", " ")
        return _joined(f"{named}NTC{told}", _listed(sensor, ("kind", "r25", "beta")))
    return _joined(kind.upper() if kind == "ptc" else kind, _listed(sensor, ("kind",)))


def _ohms(sensor: Facts, name: str, before: str, behind: str) -> str:
    found = sensor.get(name)
    return f"{before}{engineering(found, OHM, 6)}{behind}" if isinstance(found, (int, float)) else ""


def _listed(sensor: Facts, told: tuple[str, ...]) -> list[str]:
    """Return the other facts: numbers with their value, tables by their name."""
    others = {name: part for name, part in sensor.items() if name not in told}
    return [
        name.replace("_", " ") if isinstance(part, Mapping) else f"{name.replace('_', ' ')} {part:g}"
        for name, part in others.items()
        if isinstance(part, (int, float, Mapping))
    ]


def _joined(first: str, others: list[str]) -> str:
    return ", ".join((first, *others))
