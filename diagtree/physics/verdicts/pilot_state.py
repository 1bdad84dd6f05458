"""State that a voltage of the control pilot means, at the end where it was measured."""

from __future__ import annotations

from diagtree.physics.data import PILOT_BANDS, PILOT_WINDOWS
from diagtree.physics.pilot_inputs import END, VOLTAGE
from diagtree.physics.quantity import Input
from diagtree.physics.ranges import checked
from diagtree.physics.verdict import Spelled, Verdict

PROXIMITY = Input(
    "proximity", "word", "whether a plug is in, at the vehicle's end", default="connected", words=("connected", "empty")
)


@checked(VOLTAGE, END, PROXIMITY)
def pilot_state(voltage: float, end: str = "station", proximity: str = "connected") -> str:
    """Return the state of the control pilot: healthy, only recognised, or none.

    voltage : positive level, or the steady level, against protective earth, -20 to 20. [V]
    end : station or vehicle; proximity : at the vehicle, whether a plug is in: 0 V is state A without, E with one.

    Raises OutOfRange outside these ranges.
    Source: SAE J1772 bands (healthy), nominal +/-1 V (recognised) by the manuals of a vehicle charge controller and
    of a station module.
    """
    found = next((state for state, window in PILOT_WINDOWS.items() if window.holds(voltage)), None)
    if found is None or (end == "vehicle" and found == "A"):
        return "no valid state"
    if found == "E":
        return "state A: nothing plugged in" if (end, proximity) == ("vehicle", "empty") else "state E: 0 V"
    # The narrow bands are stated for the station's end; a sound loop reads the same at both.
    return f"state {found}: healthy" if PILOT_BANDS[found].holds(voltage) else f"state {found}: recognised, not healthy"


VERDICT = Verdict(
    id="pilot-state",
    meaning="state that a voltage of the control pilot means",
    inputs=(VOLTAGE, END, PROXIMITY),
    compute=pilot_state,
    rule="healthy inside the SAE J1772 band, recognised within 1 V of 12, 9, 6, 3, 0 or -12 V, else no valid state",
    source="SAE J1772 by the open firmware header J1772.h; IEC 61851-1 Table A.3 by a charge controller's manual",
    worked=(
        Spelled({"voltage": 9.0}, "state B: healthy", "band 8.36 to 9.56 V"),
        Spelled({"voltage": 6.82}, "state C: recognised, not healthy", "window 5 to 7 V, band up to 6.49 V"),
        Spelled({"voltage": 7.26}, "no valid state", "zone 7 to 8 V"),
        Spelled({"voltage": 0.2, "end": "vehicle", "proximity": "empty"}, "state A: nothing plugged in", "same manual"),
        Spelled({"voltage": -12.0}, "state F: healthy", "band -12.60 to -11.40 V"),
    ),
    hazard="live",
)
