"""Largest earth loop resistance with a circuit breaker."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

RATED = Input("rated", "A", "rated current of the breaker", 1.0, 125.0)
MULTIPLE = Input("multiple", "", "magnetic trip in multiples of it: B 5, C 10, D 20", 1.0, 20.0, 5.0)
VOLTAGE = Input("voltage", "V", "voltage against earth", 50.0, 400.0, 230.0)
FACTOR = Input("factor", "", "0.95 voltage factor, 0.8 for a cold measurement; 1 for neither", 0.1, 1.0, 1.0)
VALUE = Input("value", "ohm", "largest earth loop resistance with a circuit breaker", 0.001, 1000.0)


@checked(RATED, MULTIPLE, VOLTAGE, FACTOR)
def breaker_loop_limit(rated: float, multiple: float = 5.0, voltage: float = 230.0, factor: float = 1.0) -> float:
    """Return the largest earth loop resistance with a circuit breaker. [ohm]

    rated : rated current of the breaker, 1 to 125. [A]
    multiple : magnetic trip in multiples of it: B 5, C 10, D 20, 1 to 20. [-]
    voltage : voltage against earth, 50 to 400. [V]
    factor : 0.95 voltage factor, 0.8 for a cold measurement; 1 for neither, 0.1 to 1. [-]

    Raises OutOfRange outside these ranges.
    Source: disconnection by the magnetic trip; multiples and factors from memory.
    """
    return factor * voltage / (multiple * rated)


@checked(VALUE, MULTIPLE, VOLTAGE, FACTOR)
def rated_of_breaker_loop_limit(
    value: float, multiple: float = 5.0, voltage: float = 230.0, factor: float = 1.0
) -> float:
    """Return the rated current whose limit is `value` [ohm]. [A]"""
    return factor * voltage / (multiple * value)


QUANTITY = Quantity(
    id="breaker-loop-limit",
    meaning="largest earth loop resistance with a circuit breaker",
    unit="ohm",
    inputs=(RATED, MULTIPLE, VOLTAGE, FACTOR),
    compute=breaker_loop_limit,
    inverses={"rated": rated_of_breaker_loop_limit},
    formula="Zs = factor U / (multiple * In)",
    source="disconnection by the magnetic trip; multiples and factors from memory",
    worked=(
        Worked({"rated": 32.0}, 1.4375, 0.001, "computed; multiple from memory"),
        Worked({"rated": 32.0, "factor": 0.76}, 1.09, 0.005, "computed: 0.95 x 0.8"),
    ),
    hazard="high-voltage",
)
