"""Resistance of the supply loop from the voltage with and without the charge."""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked, plain

UNLOADED = Input("unloaded", "V", "voltage without the charge", 1.0, 1000.0)
LOADED = Input("loaded", "V", "voltage while charging", 0.0, 1000.0)
CURRENT = Input("current", "A", "charging current", 0.1, 1000.0)
VALUE = Input("value", "ohm", "resistance of the supply up to the measuring point", 0.0, 10000.0)


def _drop(unloaded: float, loaded: float) -> float:
    """Return the voltage drop. [V] A supply wavers: up to 2 per cent the wrong way counts as no drop at all.

    Raises OutOfRange where the loaded voltage is higher than that.
    """
    if loaded > 1.02 * unloaded:
        raise OutOfRange(f"`loaded` = {plain(loaded)} V is above the {plain(unloaded)} V without load: swap them")
    return max(unloaded - loaded, 0.0)


@checked(UNLOADED, LOADED, CURRENT)
def supply_loop_resistance(unloaded: float, loaded: float, current: float) -> float:
    """Return the resistance of the supply up to the measuring point. [ohm]

    unloaded : voltage without the charge, 1 to 1000. [V]
    loaded : voltage while charging, 0 to 1000. [V]
    current : charging current, 0.1 to 1000. [A]

    Raises OutOfRange outside these ranges or where the loaded voltage is the higher one.
    Source: Ohm's law.
    """
    return _drop(unloaded, loaded) / current


@checked(VALUE, UNLOADED, CURRENT)
def loaded_of_supply_loop_resistance(value: float, unloaded: float, current: float) -> float:
    """Return the voltage under load that the resistance `value` [ohm] leaves. [V]"""
    if value * current > unloaded:
        raise OutOfRange(f"`value` = {plain(value)} ohm would take more than the whole {plain(unloaded)} V")
    return unloaded - value * current


QUANTITY = Quantity(
    id="supply-loop-resistance",
    meaning="resistance of the supply up to the measuring point",
    unit="ohm",
    inputs=(UNLOADED, LOADED, CURRENT),
    compute=supply_loop_resistance,
    inverses={"loaded": loaded_of_supply_loop_resistance},
    formula="R = (U0 - UL) / I",
    source="Ohm's law",
    worked=(Worked({"unloaded": 230.0, "loaded": 221.0, "current": 32.0}, 0.2812, 0.001, "computed"),),
    hazard="high-voltage",
)
