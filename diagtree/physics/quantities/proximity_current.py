"""Current that the resistor of a type 2 plug allows."""

from __future__ import annotations

import math

from diagtree.physics import proximity_circuit as proximity
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

RESISTANCE = Input("resistance", "ohm", "resistance of the plug between proximity and earth", 0.0, math.inf)
PHASES = Input("phases", "", "phases in use, 1 or 3", 1.0, 3.0, 3.0, whole=True)

GUIDE = "EVerest charging-station stack, guide basic.rst, which names IEC 61851-1 Annex B"


@checked(RESISTANCE, PHASES)
def proximity_current(resistance: float, phases: float = 3.0) -> float:
    """Return the current per phase that a type 2 plug allows; 0 where it counts as no cable. [A]

    resistance : between proximity and earth in the plug, 0 to infinity. [ohm]
    phases : 1 or 3; a 100 ohm plug allows 70 A on one phase and 63 A on three. [-]

    Between two bands the lower current holds. Below 60 or above 4500 ohm there is no cable: 0 A.
    A CCS2 plug carries 1500 ohm always; there it means that a plug is present, not 13 A.
    Raises OutOfRange for a negative resistance.
    Source: IEC 61851-1 Annex B, Table B.3, IEC 62196-2.
    """
    return proximity.coded_current(resistance, 1 if phases < 2.0 else 3)


QUANTITY = Quantity(
    id="proximity-current",
    meaning="current per phase that a type 2 plug's resistor allows",
    unit="A",
    inputs=(RESISTANCE, PHASES),
    compute=proximity_current,
    formula="80-140 ohm: 63 A (70 A on one phase), 164-308: 32 A, 400-936: 20 A, 1100-2460: 13 A; between, the lower",
    source="IEC 61851-1 Annex B, Table B.3, IEC 62196-2; bands by the guide of the EVerest charging-station stack",
    worked=(
        Worked({"resistance": 1500.0}, 13.0, 0.0, GUIDE),
        Worked({"resistance": 680.0}, 20.0, 0.0, GUIDE),
        Worked({"resistance": 220.0}, 32.0, 0.0, GUIDE),
        Worked({"resistance": 100.0}, 63.0, 0.0, GUIDE),
        Worked({"resistance": 100.0, "phases": 1.0}, 70.0, 0.0, GUIDE),
        Worked({"resistance": 350.0}, 20.0, 0.0, f"{GUIDE}: take the lower"),
        Worked({"resistance": 50.0}, 0.0, 0.0, f"{GUIDE}: no cable"),
    ),
)
