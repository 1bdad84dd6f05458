"""Power that is left when phases of the supply are missing."""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked, plain

VOLTAGE = Input("voltage", "V", "voltage of one phase against neutral", 0.0, 1000.0)
CURRENT = Input("current", "A", "current per phase", 0.0, 1000.0)
LOST = Input("lost", "", "phases that are missing", 0.0, 3.0, 1.0, whole=True)
PHASES = Input("phases", "", "phases of the station", 1.0, 3.0, 3.0, whole=True)


@checked(VOLTAGE, CURRENT, LOST, PHASES)
def phase_loss_power(voltage: float, current: float, lost: float = 1.0, phases: float = 3.0) -> float:
    """Return the power that is left when phases are missing. [W]

    voltage : voltage of one phase against neutral, 0 to 1000. [V]
    current : current per phase, 0 to 1000. [A]
    lost : phases that are missing, 0 to 3. [-]
    phases : phases of the station, 1 to 3. [-]

    Raises OutOfRange outside these ranges.
    Source: power of single-phase loads side by side.
    """
    if lost > phases:
        raise OutOfRange(
            f"`lost` = {plain(lost)} is more than the {plain(phases)} phases there are: type 0 to {plain(phases)}"
        )
    return (phases - lost) * voltage * current


QUANTITY = Quantity(
    id="phase-loss-power",
    meaning="power that is left when phases are missing",
    unit="W",
    inputs=(VOLTAGE, CURRENT, LOST, PHASES),
    compute=phase_loss_power,
    formula="P = (n - lost) U I",
    source="power of single-phase loads side by side",
    worked=(
        Worked({"voltage": 230.0, "current": 16.0}, 7360.0, 5.0, "computed: two of three phases"),
        Worked({"voltage": 230.0, "current": 16.0, "lost": 2.0}, 3680.0, 5.0, "computed: one of three"),
    ),
    hazard="high-voltage",
)
