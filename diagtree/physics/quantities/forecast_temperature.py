"""Temperature at which a warming contact will end, from three readings."""

from __future__ import annotations

from diagtree.physics import heating
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

FIRST = Input("first", "degC", "first reading", -60.0, 500.0)
SECOND = Input("second", "degC", "second reading, one interval later", -60.0, 500.0)
THIRD = Input("third", "degC", "third reading, two intervals later", -60.0, 500.0)
READING_UNCERTAINTY = Input(
    "reading_uncertainty", "K", "expanded uncertainty of each reading; 0.06 for a display of 0.1 K", 0.0, 20.0, 0.0
)


@checked(FIRST, SECOND, THIRD, READING_UNCERTAINTY)
def forecast_temperature(first: float, second: float, third: float, reading_uncertainty: float = 0.0) -> float:
    """Return the temperature at which a warming contact will end. [degC]

    first : first reading, -60 to 500. [degC]
    second : second reading, one interval later, -60 to 500. [degC]
    third : third reading, two intervals later, -60 to 500. [degC]
    reading_uncertainty : expanded uncertainty of each reading; 0.06 for a display of 0.1 K, 0 to 20. [K]

    Raises OutOfRange outside these ranges or where the readings do not level off by more than their uncertainty.
    Source: three equally spaced readings of an exponential approach.
    """
    return heating.forecast(first, second, third, 1.0, reading_uncertainty).end


QUANTITY = Quantity(
    id="forecast-temperature",
    meaning="temperature at which a warming contact will end",
    unit="degC",
    inputs=(FIRST, SECOND, THIRD, READING_UNCERTAINTY),
    compute=forecast_temperature,
    formula="T = (T1 T3 - T2^2) / (T1 + T3 - 2 T2)",
    source="three equally spaced readings of an exponential approach",
    worked=(
        Worked({"first": 45.146, "second": 57.365, "third": 64.776}, 76.2, 0.05, "computed from the first-order model"),
        Worked({"first": 45.1, "second": 57.4, "third": 64.8}, 76.0, 0.05, "the same readings rounded to 0.1 K"),
    ),
    hazard="high-voltage",
)
