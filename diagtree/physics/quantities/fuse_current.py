"""Current through a fuse from the voltage across it."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

DROP = Input("drop", "V", "voltage across the fuse", 0.0, 1000.0)
RESISTANCE = Input("resistance", "ohm", "cold resistance of the fuse", 1e-5, 1000.0)
VALUE = Input("value", "A", "current through a fuse", 0.0, 1e8)


@checked(DROP, RESISTANCE)
def fuse_current(drop: float, resistance: float) -> float:
    """Return the current through a fuse. [A]

    drop : voltage across the fuse, 0 to 1000. [V]
    resistance : cold resistance of the fuse, 1e-5 to 1000. [ohm]

    Raises OutOfRange outside these ranges.
    Source: Ohm's law.
    """
    return drop / resistance


@checked(VALUE, RESISTANCE)
def drop_of_fuse_current(value: float, resistance: float) -> float:
    """Return the voltage across the fuse at the current `value` [A]. [V]"""
    return value * resistance


QUANTITY = Quantity(
    id="fuse-current",
    meaning="current through a fuse",
    unit="A",
    inputs=(DROP, RESISTANCE),
    compute=fuse_current,
    inverses={"drop": drop_of_fuse_current},
    formula="I = U / R",
    source="Ohm's law",
    worked=(Worked({"drop": 0.0035, "resistance": 0.007}, 0.5, 1e-6, "computed"),),
    hazard="live",
)
