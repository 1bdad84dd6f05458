"""What a monitored interlock loop says, from the voltages at its two ends."""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Input
from diagtree.physics.ranges import checked, plain
from diagtree.physics.verdict import Spelled, Verdict

SEND = Input("send", "V", "voltage where the loop is fed", 0.0, 60.0)
BACK = Input("back", "V", "voltage where the loop comes back", 0.0, 60.0)
LOWER = Input("lower", "V", "the car's lower threshold", 0.0, 60.0)
UPPER = Input("upper", "V", "the car's upper threshold", 0.0, 60.0)

DESIGN = "interlock reference design TIDUF61 (2024); open and shorts are inferred from its circuit"


@checked(SEND, BACK, LOWER, UPPER)
def interlock_loop(send: float, back: float, lower: float, upper: float) -> str:
    """Return what the interlock loop says: closed, open, short to ground, short to battery or unclear.

    send, back : voltages where the loop is fed and where it comes back, 0 to 60. [V]
    lower, upper : the car maker's thresholds, 0 to 60; they are never invented. [V]

    Raises OutOfRange outside these ranges or where the lower threshold is not the lower one.
    Source: interlock reference design TIDUF61 (May 2024).
    """
    if not lower < upper:
        raise OutOfRange(f"`lower` = {plain(lower)} V must be below `upper` = {plain(upper)} V: swap them")
    if send >= upper and lower < back < upper:
        return "closed"
    if send >= upper and back <= lower:
        return "open"
    if send <= lower and back <= lower:
        return "short to ground"
    return "short to battery" if send >= upper and back >= upper else "unclear: measure again"


VERDICT = Verdict(
    id="interlock-loop",
    meaning="what a monitored interlock loop says",
    inputs=(SEND, BACK, LOWER, UPPER),
    compute=interlock_loop,
    rule="fed high: back between the thresholds closed, low open, high short to battery; both low short to ground",
    source=DESIGN,
    worked=(
        Spelled({"send": 10.0, "back": 5.0, "lower": 2.0, "upper": 8.0}, "closed", DESIGN),
        Spelled({"send": 12.0, "back": 0.0, "lower": 2.0, "upper": 8.0}, "open", DESIGN),
        Spelled({"send": 0.1, "back": 0.0, "lower": 2.0, "upper": 8.0}, "short to ground", DESIGN),
        Spelled({"send": 12.0, "back": 12.0, "lower": 2.0, "upper": 8.0}, "short to battery", DESIGN),
    ),
    hazard="live",
)
