"""Power lost in the supply while charging."""

from __future__ import annotations

from diagtree.physics.quantity import Quantity, Worked
from diagtree.physics.ranges import checked
from diagtree.physics.supply_loop import CURRENT, LOADED, UNLOADED, voltage_drop


@checked(UNLOADED, LOADED, CURRENT)
def supply_loop_loss(unloaded: float, loaded: float, current: float) -> float:
    """Return the power lost in the supply up to the measuring point. [W]

    unloaded : voltage without the charge, 1 to 1000. [V]
    loaded : voltage while charging, 0 to 1000. [V]
    current : charging current, 0.1 to 1000. [A]

    Raises OutOfRange outside these ranges or where the loaded voltage is the higher one.
    Source: Ohm's law.
    """
    return voltage_drop(unloaded, loaded) * current


QUANTITY = Quantity(
    id="supply-loop-loss",
    meaning="power lost in the supply up to the measuring point",
    unit="W",
    inputs=(UNLOADED, LOADED, CURRENT),
    compute=supply_loop_loss,
    formula="P = (U0 - UL) I",
    source="Ohm's law",
    worked=(Worked({"unloaded": 230.0, "loaded": 221.0, "current": 32.0}, 288.0, 0.5, "computed"),),
    hazard="high-voltage",
)
