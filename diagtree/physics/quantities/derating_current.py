"""Current allowed at a temperature, falling along a straight line."""

from __future__ import annotations

from diagtree.physics.lines import on_line
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

TEMPERATURE = Input("temperature", "degC", "temperature of the sensor", -60.0, 300.0)
START = Input("start", "degC", "temperature at which derating begins", -60.0, 300.0)
FULL_CURRENT = Input("full_current", "A", "current up to there", 0.0, 1500.0)
END = Input("end", "degC", "temperature at which it ends", -60.0, 300.0)
END_CURRENT = Input("end_current", "A", "current at that end", 0.0, 1500.0)


@checked(TEMPERATURE, START, FULL_CURRENT, END, END_CURRENT)
def derating_current(temperature: float, start: float, full_current: float, end: float, end_current: float) -> float:
    """Return the current allowed at a temperature. [A]

    temperature : temperature of the sensor, -60 to 300. [degC]
    start : temperature at which derating begins, -60 to 300. [degC]
    full_current : current up to there, 0 to 1500. [A]
    end : temperature at which it ends, -60 to 300. [degC]
    end_current : current at that end, 0 to 1500. [A]

    Raises OutOfRange outside these ranges or where the end is not above the start.
    Source: documentation of an open temperature-derating module; the numbers are the maker's, never a norm.
    """
    return on_line(temperature, (start, full_current), (end, end_current))


QUANTITY = Quantity(
    id="derating-current",
    meaning="current allowed at a temperature",
    unit="A",
    inputs=(TEMPERATURE, START, FULL_CURRENT, END, END_CURRENT),
    compute=derating_current,
    formula="straight line from (start, full) to (end, end current), level outside",
    source="documentation of an open temperature-derating module; the numbers are the maker's, never a norm",
    worked=(
        Worked(
            {"temperature": 47.5, "start": 25.0, "full_current": 32.0, "end": 70.0, "end_current": 10.0},
            21.0,
            0.05,
            "computed from that module's example",
        ),
    ),
)
