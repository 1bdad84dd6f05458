"""Resistance of the supply loop from the voltage with and without the charge."""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked, plain
from diagtree.physics.supply_loop import CURRENT, LOADED, UNLOADED, voltage_drop

VALUE = Input("value", "ohm", "resistance of the supply up to the measuring point", 0.0, 10000.0)


@checked(UNLOADED, LOADED, CURRENT)
def supply_loop_resistance(unloaded: float, loaded: float, current: float) -> float:
    """Return the resistance of the supply up to the measuring point. [ohm]

    unloaded : voltage without the charge, 1 to 1000. [V]
    loaded : voltage while charging, 0 to 1000. [V]
    current : charging current, 0.1 to 1000. [A]

    Raises OutOfRange outside these ranges or where the loaded voltage is the higher one.
    Source: Ohm's law.
    """
    return voltage_drop(unloaded, loaded) / current


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
