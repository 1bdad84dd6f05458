"""Leakage from pilot to earth, from a level at the station."""

from __future__ import annotations

from diagtree.physics import pilot_circuit as pilot
from diagtree.physics import pilot_inputs as inputs
from diagtree.physics.pilot_readings import leakage_resistance
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

STATE = Input(
    "state",
    "word",
    "state of the positive level; A also for a negative level, which the diode does not load",
    default="A",
    words=("A", *pilot.CONNECTED),
)
INPUTS = (inputs.VOLTAGE, STATE, *inputs.PARTS)


@checked(*INPUTS)
def pilot_leakage_resistance(
    voltage: float,
    state: str = "A",
    generator: float = pilot.GENERATOR,
    source_resistance: float = pilot.SOURCE_RESISTANCE,
    diode_drop: float = pilot.DIODE_DROP,
    r2: float = pilot.R2,
    r3: float = pilot.R3,
    r4: float = pilot.R4,
) -> float:
    """Return the leakage resistance from pilot to earth, before the diode, that explains a level. [ohm]

    voltage : level at the station against earth, -20 to 20; the negative level tells it best. [V]
    state : of a positive level: A (nothing plugged in), B, C or D. The parts : as for `pilot-voltage`.

    Infinity means no leakage. Raises OutOfRange for a level beyond the healthy one.
    Source: the circuit of IEC 61851-1 Annex A, solved for the leakage.
    """
    parts = (generator, source_resistance, diode_drop, r2, r3, r4)
    return leakage_resistance(voltage, state, pilot.PilotCircuit(0.0, pilot.NONE, "normal", *parts))


QUANTITY = Quantity(
    id="pilot-leakage-resistance",
    meaning="leakage from pilot to earth that explains a voltage",
    unit="ohm",
    inputs=INPUTS,
    compute=pilot_leakage_resistance,
    formula="RL = |V| / ((|Vs| - |V|)/Rs - (V - Vd)/Rv); without the last term on the negative level and in state A",
    source="the circuit of IEC 61851-1 Annex A; diode drop 0.7 V from memory",
    worked=(
        Worked({"voltage": -10.909}, 10000.0, 20.0, "computed"),
        Worked({"voltage": 8.757}, 2700.0, 5.0, "computed"),
        Worked({"voltage": 4.082, "state": "C"}, 1000.0, 2.0, "computed"),
    ),
    hazard="live",
)
