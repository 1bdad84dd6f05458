"""Thermal time constant of a warming contact, from three readings."""

from __future__ import annotations

from diagtree.physics import heating
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

FIRST = Input("first", "degC", "first reading", -60.0, 500.0)
SECOND = Input("second", "degC", "second reading, one interval later", -60.0, 500.0)
THIRD = Input("third", "degC", "third reading, two intervals later", -60.0, 500.0)
INTERVAL = Input("interval", "s", "time between two readings", 0.1, 100000.0)
READING_UNCERTAINTY = Input(
    "reading_uncertainty", "K", "expanded uncertainty of each reading; 0.06 for a display of 0.1 K", 0.0, 20.0, 0.0
)


@checked(FIRST, SECOND, THIRD, INTERVAL, READING_UNCERTAINTY)
def forecast_time_constant(
    first: float, second: float, third: float, interval: float, reading_uncertainty: float = 0.0
) -> float:
    """Return the thermal time constant of a warming contact. [s]

    first : first reading, -60 to 500. [degC]
    second : second reading, one interval later, -60 to 500. [degC]
    third : third reading, two intervals later, -60 to 500. [degC]
    interval : time between two readings, 0.1 to 100000. [s]
    reading_uncertainty : expanded uncertainty of each reading; 0.06 for a display of 0.1 K, 0 to 20. [K]

    Raises OutOfRange outside these ranges or where the readings do not level off by more than their uncertainty.
    Source: three equally spaced readings of an exponential approach.
    """
    return heating.forecast(first, second, third, interval, reading_uncertainty).time_constant


QUANTITY = Quantity(
    id="forecast-time-constant",
    meaning="thermal time constant of a warming contact",
    unit="s",
    inputs=(FIRST, SECOND, THIRD, INTERVAL, READING_UNCERTAINTY),
    compute=forecast_time_constant,
    formula="tau = -dt / ln((T3 - T2) / (T2 - T1))",
    source="three equally spaced readings of an exponential approach",
    worked=(
        Worked(
            {"first": 45.146, "second": 57.365, "third": 64.776, "interval": 300.0},
            600.0,
            5.0,
            "computed from the first-order model",
        ),
        Worked(
            {"first": 45.1, "second": 57.4, "third": 64.8, "interval": 300.0},
            590.0,
            1.0,
            "the same readings rounded to 0.1 K",
        ),
    ),
    hazard="high-voltage",
)
