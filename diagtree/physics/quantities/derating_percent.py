"""Share by which the current is reduced at a temperature."""

from __future__ import annotations

from diagtree.physics.lines import on_line
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

TEMPERATURE = Input("temperature", "degC", "temperature of the sensor", -60.0, 300.0)
START = Input("start", "degC", "temperature at which derating begins", -60.0, 300.0)
END = Input("end", "degC", "temperature at which it ends", -60.0, 300.0)
END_PERCENT = Input("end_percent", "percent", "reduction at that end", 0.0, 100.0)


@checked(TEMPERATURE, START, END, END_PERCENT)
def derating_percent(temperature: float, start: float, end: float, end_percent: float) -> float:
    """Return the share by which the current is reduced at a temperature. [percent]

    temperature : temperature of the sensor, -60 to 300. [degC]
    start : temperature at which derating begins, -60 to 300. [degC]
    end : temperature at which it ends, -60 to 300. [degC]
    end_percent : reduction at that end, 0 to 100. [percent]

    Raises OutOfRange outside these ranges or where the end is not above the start.
    Source: documentation of a vehicle charge controller; the numbers are the maker's, never a norm.
    """
    return on_line(temperature, (start, 0.0), (end, end_percent))


QUANTITY = Quantity(
    id="derating-percent",
    meaning="share by which the current is reduced at a temperature",
    unit="percent",
    inputs=(TEMPERATURE, START, END, END_PERCENT),
    compute=derating_percent,
    formula="straight line from (start, 0 %) to (end, end percent), level outside",
    source="documentation of a vehicle charge controller; the numbers are the maker's, never a norm",
    worked=(
        Worked(
            {"temperature": 75.0, "start": 60.0, "end": 90.0, "end_percent": 50.0},
            25.0,
            0.1,
            "computed from that controller's example",
        ),
    ),
)
