"""Current allowed near a limit: straight down over the last kelvins, a little at it, none far above."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

TEMPERATURE = Input("temperature", "degC", "temperature of the sensor", -60.0, 300.0)
FULL_CURRENT = Input("full_current", "A", "current well below the limit", 0.0, 1500.0)
LIMIT = Input("limit", "degC", "temperature limit", -60.0, 300.0, 70.0)
SPAN = Input("span", "K", "kelvins below the limit in which it falls", 0.1, 100.0, 10.0)
FLOOR = Input("floor", "A", "current at the limit", 0.0, 100.0, 2.0)
STOP = Input("stop", "K", "kelvins above the limit at which it stops", 0.0, 100.0, 10.0)


@checked(TEMPERATURE, FULL_CURRENT, LIMIT, SPAN, FLOOR, STOP)
def derating_to_limit(
    temperature: float,
    full_current: float,
    limit: float = 70.0,
    span: float = 10.0,
    floor: float = 2.0,
    stop: float = 10.0,
) -> float:
    """Return the current allowed near a temperature limit. [A]

    temperature : temperature of the sensor, -60 to 300. [degC]
    full_current : current well below the limit, 0 to 1500. [A]
    limit : temperature limit, -60 to 300. [degC]
    span : kelvins below the limit in which it falls, 0.1 to 100. [K]
    floor : current at the limit, 0 to 100. [A]
    stop : kelvins above the limit at which it stops, 0 to 100. [K]

    Raises OutOfRange outside these ranges.
    Source: open vehicle project ccs32clara, temperature derating; the numbers are the project's, never a norm.
    """
    if temperature > limit + stop:
        return 0.0
    falling = full_current * min(1.0, (limit - temperature) / span)
    return max(falling, min(floor, full_current))


QUANTITY = Quantity(
    id="derating-to-limit",
    meaning="current allowed near a temperature limit",
    unit="A",
    inputs=(TEMPERATURE, FULL_CURRENT, LIMIT, SPAN, FLOOR, STOP),
    compute=derating_to_limit,
    formula="I = full * (limit - t) / span, at least the floor, 0 above limit + stop",
    source="open vehicle project ccs32clara, temperature derating; the numbers are the project's, never a norm",
    worked=(
        Worked({"temperature": 65.0, "full_current": 125.0}, 62.5, 0.01, "computed from that project"),
        Worked({"temperature": 69.0, "full_current": 125.0}, 12.5, 0.01, "computed from that project"),
        Worked({"temperature": 70.0, "full_current": 125.0}, 2.0, 0.01, "computed from that project"),
        Worked({"temperature": 81.0, "full_current": 125.0}, 0.0, 0.0, "computed from that project"),
    ),
)
