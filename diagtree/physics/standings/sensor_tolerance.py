"""Tolerance of a temperature sensor: a platinum sensor's class B, a PTC switch's normal band."""

from __future__ import annotations

from collections.abc import Mapping

from diagtree.physics import resistance_thermometer as platinum
from diagtree.physics.standing import Asked, Limit, Limits, Meaning
from diagtree.physics.temperature_sensor import ptc_band

CLASS = "B"


def find(asked: Asked) -> tuple[Limit, ...]:
    """Return the band of resistance. The makers' tolerance of an NTC is no standard's: none is returned."""
    sensor, temperature = asked.inputs["sensor"], asked.inputs["temperature"]
    if not isinstance(sensor, Mapping) or not isinstance(temperature, float):
        return ()
    kind = sensor.get("kind", "platinum" if asked.one.id == "platinum" else "")
    if kind == "ptc":
        return (Limit(*ptc_band(sensor), "PTC switch, normal", "the car's profile"),)
    return (platinum_band(temperature, platinum.nominal(sensor)),) if kind == "platinum" else ()


def platinum_band(temperature: float, nominal: float) -> Limit:
    """Return the resistances between which a platinum sensor of class B may be at `temperature` [degC]. [ohm]"""
    off = platinum.tolerance(temperature, CLASS)
    low, high = (nominal * platinum.ratio(temperature + sign * off) for sign in (-1, 1))
    return Limit(low, high, f"class {CLASS}, +/-{off:.2f} K", "IEC 60751, tolerance class B", moves=True)


def meaning(asked: Asked) -> Meaning | None:
    """Return what a PTC switch says."""
    sensor = asked.inputs["sensor"]
    if isinstance(sensor, Mapping) and sensor.get("kind") == "ptc":
        return "ptc-state", {"resistance": asked.judged, "sensor": sensor}
    return None


LIMITS = Limits(frozenset({"sensor-resistance", "platinum"}), find, meaning)
