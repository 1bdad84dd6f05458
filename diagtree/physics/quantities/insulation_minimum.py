"""Least insulation resistance that a high-voltage circuit must have."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

OHMS_PER_VOLT = {"dc": 100.0, "ac": 500.0, "connected": 500.0, "connected-protected": 100.0}
"""Limit per volt of working voltage. [ohm/V]"""

FIXED = {"ac-inlet": 1e6, "cable-check": 100e3, "megawatt-cable-check": 125e3}
"""Limit whatever the voltage. [ohm]"""

VOLTAGE = Input("voltage", "V", "working voltage of the circuit", 0.0, 1500.0)
CIRCUIT = Input(
    "circuit",
    "word",
    "which circuit: DC or AC bus alone, both connected (protected: by double insulation or a robust enclosure), "
    "the AC inlet uncoupled, the station's cable check",
    default="dc",
    words=(*OHMS_PER_VOLT, *FIXED),
)


@checked(VOLTAGE, CIRCUIT)
def insulation_minimum(voltage: float, circuit: str = "dc") -> float:
    """Return the least insulation resistance between a high-voltage circuit and the chassis. [ohm]

    voltage : working voltage of the circuit, 0 to 1500. [V]
    circuit : dc, ac, connected, connected-protected, ac-inlet, cable-check or megawatt-cable-check.

    Raises OutOfRange outside these. The car maker's own limit, where it is higher, comes first.
    Source: UN Regulation 100, 5.1.3.1 to 5.1.3.4; ISO 6469-4; IEC 61851-23:2023 for the cable check.
    """
    if circuit in FIXED:
        return FIXED[circuit]
    return OHMS_PER_VOLT[circuit] * voltage


QUANTITY = Quantity(
    id="insulation-minimum",
    meaning="least insulation resistance of a high-voltage circuit against the chassis",
    unit="ohm",
    inputs=(VOLTAGE, CIRCUIT),
    compute=insulation_minimum,
    formula="100 ohm/V (DC), 500 ohm/V (AC or connected), 1 Mohm (AC inlet), 100 kohm (cable check)",
    source="UN Regulation 100, 5.1.3.1 to 5.1.3.4; ISO 6469-4:2015; IEC 61851-23:2023 annex CC",
    worked=(
        Worked({"voltage": 400.0}, 40e3, 0.0, "UN R100, 5.1.3.1: 100 ohm/V"),
        Worked({"voltage": 400.0, "circuit": "ac"}, 200e3, 0.0, "UN R100, 5.1.3.1: 500 ohm/V"),
        Worked({"voltage": 800.0, "circuit": "connected-protected"}, 80e3, 0.0, "UN R100, 5.1.3.2"),
        Worked({"voltage": 400.0, "circuit": "ac-inlet"}, 1e6, 0.0, "UN R100, 5.1.3.4"),
        Worked({"voltage": 400.0, "circuit": "cable-check"}, 100e3, 0.0, "IEC 61851-23:2023, by the EVerest stack"),
    ),
    hazard="high-voltage",
)
