"""Steinhart-Hart coefficients of a thermistor from rows of its table."""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics import facts as profile
from diagtree.physics import thermistor
from diagtree.physics.quantity import Facts, Input, Quantity, Worked
from diagtree.physics.ranges import checked

COEFFICIENT = Input("coefficient", "word", "which coefficient", words=("a", "b", "c"))
SENSOR = Input("sensor", "facts", "the NTC in the vehicle profile: {table} of three rows or more")

ROWS: Facts = {"table": {"0": 27326.0, "25": 10000.0, "85": 1451.0}}


@checked(COEFFICIENT, SENSOR)
def steinhart_hart(coefficient: str, sensor: Facts) -> float:
    """Return the Steinhart-Hart coefficient of an NTC, fitted to its table. [1/K]

    coefficient : which coefficient.
    sensor : the NTC in the vehicle profile: {table} of three rows or more.

    Raises OutOfRange outside these ranges, without a table or where it does not fall.
    Source: Steinhart and Hart, Deep-Sea Research 15 (1968), p. 497.
    """
    rows = profile.table(sensor, "table")
    if rows is None:
        raise OutOfRange("`sensor` has no `table`: give three rows or more, temperature in degC: ohms")
    return thermistor.steinhart_hart(rows)["abc".index(coefficient)]


QUANTITY = Quantity(
    id="steinhart-hart",
    meaning="Steinhart-Hart coefficient of an NTC, fitted to its table",
    unit="1/K",
    inputs=(COEFFICIENT, SENSOR),
    compute=steinhart_hart,
    formula="1/T = a + b ln R + c (ln R)^3 through three rows, or nearest to more (least squares in 1/T)",
    source="Steinhart and Hart, Deep-Sea Research 15 (1968), p. 497",
    worked=(
        Worked({"coefficient": "a", "sensor": ROWS}, 8.745225e-4, 1e-8, "computed from table B57330V2103"),
        Worked({"coefficient": "b", "sensor": ROWS}, 2.537487e-4, 3e-9, "computed from table B57330V2103"),
        Worked({"coefficient": "c", "sensor": ROWS}, 1.822336e-7, 2e-12, "computed from table B57330V2103"),
    ),
)
