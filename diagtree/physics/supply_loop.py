"""The voltage that a charge takes from its supply: what the loop's resistance and its loss are computed from."""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Input
from diagtree.physics.ranges import plain

UNLOADED = Input("unloaded", "V", "voltage without the charge", 1.0, 1000.0)
LOADED = Input("loaded", "V", "voltage while charging", 0.0, 1000.0)
CURRENT = Input("current", "A", "charging current", 0.1, 1000.0)


def voltage_drop(unloaded: float, loaded: float) -> float:
    """Return the voltage drop. [V] A supply wavers: up to 2 per cent the wrong way counts as no drop at all.

    Raises OutOfRange where the loaded voltage is higher than that.
    """
    if loaded > 1.02 * unloaded:
        raise OutOfRange(f"`loaded` = {plain(loaded)} V is above the {plain(unloaded)} V without load: swap them")
    return max(unloaded - loaded, 0.0)
