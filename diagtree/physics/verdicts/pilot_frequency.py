"""Whether the frequency of the control pilot is in order."""

from __future__ import annotations

from diagtree.physics.data import PILOT_FREQUENCY, PILOT_FREQUENCY_EXPECTED
from diagtree.physics.quantity import Input
from diagtree.physics.ranges import checked
from diagtree.physics.verdict import Spelled, Verdict

FREQUENCY = Input("frequency", "Hz", "frequency of the pilot's square wave", 0.0, 1e6)


@checked(FREQUENCY)
def pilot_frequency(frequency: float) -> str:
    """Return whether the pilot's frequency is in order, unusual or a fault.

    frequency : of the square wave, 0 to 1e6. [Hz]

    Raises OutOfRange outside.
    Source: IEC 61851-1: 980 to 1020 Hz by one public source, 995 to 1005 Hz by another; editions differ.
    """
    if not PILOT_FREQUENCY.holds(frequency):
        return "fault: outside 980 to 1020 Hz"
    return "in order" if PILOT_FREQUENCY_EXPECTED.holds(frequency) else "unusual: outside 995 to 1005 Hz"


VERDICT = Verdict(
    id="pilot-frequency",
    meaning="whether the frequency of the control pilot is in order",
    inputs=(FREQUENCY,),
    compute=pilot_frequency,
    rule="in order within 995 to 1005 Hz, a fault outside 980 to 1020 Hz, unusual between",
    source="IEC 61851-1 by the guide of the EVerest charging-station stack and by open vehicle-side firmware",
    worked=(
        Spelled({"frequency": 1000.0}, "in order", "nominal"),
        Spelled({"frequency": 990.0}, "unusual: outside 995 to 1005 Hz", "between the two tolerances"),
        Spelled({"frequency": 900.0}, "fault: outside 980 to 1020 Hz", "wider tolerance"),
    ),
    hazard="live",
)
