"""What the resistor of a type 2 plug says."""

from __future__ import annotations

from diagtree.physics import proximity_circuit as proximity
from diagtree.physics.quantities.proximity_current import GUIDE, PHASES, RESISTANCE
from diagtree.physics.ranges import checked
from diagtree.physics.verdict import Spelled, Verdict


@checked(RESISTANCE, PHASES)
def proximity_coding(resistance: float, phases: float = 3.0) -> str:
    """Return the cable's rating as the plug's resistor codes it, or that it counts as no cable.

    resistance : between proximity and earth in the plug, 0 to infinity. [ohm]
    phases : 1 or 3. [-]

    A CCS2 plug carries 1500 ohm always; there it means that a plug is present, not 13 A.
    Raises OutOfRange for a negative resistance.
    Source: IEC 61851-1 Annex B, Table B.3, IEC 62196-2.
    """
    current = proximity.coded_current(resistance, 1 if phases < 2.0 else 3)
    if current == 0.0:
        return "fault: counts as no cable"
    inside = any(low <= resistance <= high for low, high, _ in proximity.CODING)
    return f"{current:.0f} A" if inside else f"{current:.0f} A (between two bands: the lower)"


VERDICT = Verdict(
    id="proximity-coding",
    meaning="what the resistor of a type 2 plug says",
    inputs=(RESISTANCE, PHASES),
    compute=proximity_coding,
    rule="bands of IEC 61851-1 Table B.3; between two bands the lower current; below 60 or above 4500 ohm no cable",
    source="IEC 61851-1 Annex B, Table B.3, IEC 62196-2; bands by the guide of the EVerest charging-station stack",
    worked=(
        Spelled({"resistance": 220.0}, "32 A", GUIDE),
        Spelled({"resistance": 350.0}, "20 A (between two bands: the lower)", GUIDE),
        Spelled({"resistance": 50.0}, "fault: counts as no cable", GUIDE),
        Spelled({"resistance": 5000.0}, "fault: counts as no cable", GUIDE),
    ),
)
