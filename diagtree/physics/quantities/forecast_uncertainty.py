"""Uncertainty of the forecast of a warming contact's end."""

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
def forecast_uncertainty(first: float, second: float, third: float, reading_uncertainty: float = 0.0) -> float:
    """Return the expanded uncertainty of the forecast temperature. [K]

    first : first reading, -60 to 500. [degC]
    second : second reading, one interval later, -60 to 500. [degC]
    third : third reading, two intervals later, -60 to 500. [degC]
    reading_uncertainty : expanded uncertainty of each reading; 0.06 for a display of 0.1 K, 0 to 20. [K]

    Raises OutOfRange outside these ranges or where the readings do not level off by more than their uncertainty.
    Source: first-order propagation, JCGM 100.
    """
    return heating.forecast(first, second, third, 1.0, reading_uncertainty).end_uncertainty


QUANTITY = Quantity(
    id="forecast-uncertainty",
    meaning="expanded uncertainty of the forecast temperature",
    unit="K",
    inputs=(FIRST, SECOND, THIRD, READING_UNCERTAINTY),
    compute=forecast_uncertainty,
    formula="U = Ureading sqrt(sum of (dT/dTi)^2)",
    source="first-order propagation, JCGM 100",
    worked=(
        Worked(
            {"first": 45.1, "second": 57.4, "third": 64.8, "reading_uncertainty": 0.0577},
            0.585,
            0.005,
            "computed: display of 0.1 K, k = 2; the true 76.2 lies inside 76.0 +/- 0.6",
        ),
    ),
    hazard="high-voltage",
)
