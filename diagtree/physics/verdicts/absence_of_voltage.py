"""Whether a voltage is below what counts as hazardous."""

from __future__ import annotations

import math

from diagtree.physics.data import CLASS_B_AC, CLASS_B_DC
from diagtree.physics.quantity import Input
from diagtree.physics.ranges import checked, plain
from diagtree.physics.verdict import HAZARDOUS, Spelled, Verdict

VOLTAGE = Input("voltage", "V", "voltage between two points, either sign; OL is above any limit", -2000.0, math.inf)
SUPPLY = Input("supply", "word", "kind of voltage", default="dc", words=("dc", "ac"))
LIMIT = Input("limit", "V", "the car maker's limit, where it is lower than the standard's", 0.0, 60.0, CLASS_B_DC.value)

STANDARD = "ISO 6469-4 by a reprint"


@checked(VOLTAGE, SUPPLY, LIMIT)
def absence_of_voltage(voltage: float, supply: str = "dc", limit: float = CLASS_B_DC.value) -> str:
    """Return whether a voltage is below the limit: the standard's or the maker's, whichever is lower.

    voltage : between two points, either sign, -2000 to infinity (above the meter's range). [V]
    supply : dc (60 V) or ac (30 V rms); limit : the car maker's, 0 to 60. [V]

    A limit itself is not below it. The words hold for one reading: the tester must be proven on a known source
    before and after, and every pair of points measured.
    Raises OutOfRange outside these ranges.
    Source: UN Regulation 100, ISO 6469-3 and -4 (limits); EN 50110-1, 6.2.3 (proving the tester).
    """
    lowest = min(limit, (CLASS_B_DC if supply == "dc" else CLASS_B_AC).value)
    below = abs(voltage) < lowest
    return f"{'below' if below else f'{HAZARDOUS}: not below'} {plain(lowest)} V {supply.upper()}"


VERDICT = Verdict(
    id="absence-of-voltage",
    meaning="whether a voltage is below what counts as hazardous",
    inputs=(VOLTAGE, SUPPLY, LIMIT),
    compute=absence_of_voltage,
    rule="|V| below 60 V DC or 30 V AC rms or the maker's lower limit; tester proven before and after; every pair",
    source="UN Regulation 100, ISO 6469-3 and -4: 60 V DC, 30 V AC rms; EN 50110-1, 6.2.3",
    worked=(
        Spelled({"voltage": 0.4}, "below 60 V DC", STANDARD),
        Spelled({"voltage": -350.0}, "HAZARDOUS: not below 60 V DC", STANDARD),
        Spelled({"voltage": 60.0}, "HAZARDOUS: not below 60 V DC", "hazardous voltage begins at the limit"),
        Spelled({"voltage": 35.0, "supply": "ac"}, "HAZARDOUS: not below 30 V AC", STANDARD),
        Spelled({"voltage": 26.0, "limit": 25.0}, "HAZARDOUS: not below 25 V DC", "the maker's limit is lower"),
        Spelled({"voltage": math.inf}, "HAZARDOUS: not below 60 V DC", "above the meter's range"),
    ),
    hazard="high-voltage",
)
