"""Extra series resistance in the pilot's loop, from a voltage at one end."""

from __future__ import annotations

import math

from diagtree.physics import pilot_circuit as pilot
from diagtree.physics import pilot_inputs as inputs
from diagtree.physics.pilot_readings import series_resistance
from diagtree.physics.quantity import Quantity, Worked
from diagtree.physics.ranges import checked

INPUTS = (inputs.POSITIVE_LEVEL, inputs.CONNECTED_STATE, inputs.END, inputs.LEAKAGE, *inputs.PARTS)


@checked(*INPUTS)
def pilot_series_resistance(
    voltage: float,
    state: str,
    end: str = "station",
    leakage: float = math.inf,
    generator: float = pilot.GENERATOR,
    source_resistance: float = pilot.SOURCE_RESISTANCE,
    diode_drop: float = pilot.DIODE_DROP,
    r2: float = pilot.R2,
    r3: float = pilot.R3,
    r4: float = pilot.R4,
) -> float:
    """Return the resistance of bad contacts in the loop of pilot and protective earth that explains a reading. [ohm]

    voltage : positive level against earth, 0 to 20. [V]
    state : B, C or D, which the car asks for; end : where it was measured, station or vehicle.
    leakage and the parts : as for `pilot-voltage`.

    Raises OutOfRange where the reading departs to the other side, which another defect must explain.
    Source: the circuit of IEC 61851-1 Annex A, solved for the series resistance.
    """
    parts = (generator, source_resistance, diode_drop, r2, r3, r4)
    return series_resistance(voltage, state, end, pilot.PilotCircuit(0.0, leakage, "normal", *parts))


@checked(inputs.renamed(inputs.SERIES, "value"), *INPUTS[1:])
def voltage_of_series(
    value: float,
    state: str,
    end: str = "station",
    leakage: float = math.inf,
    generator: float = pilot.GENERATOR,
    source_resistance: float = pilot.SOURCE_RESISTANCE,
    diode_drop: float = pilot.DIODE_DROP,
    r2: float = pilot.R2,
    r3: float = pilot.R3,
    r4: float = pilot.R4,
) -> float:
    """Return the positive level that a series resistance `value` [ohm] gives. [V]"""
    parts = (generator, source_resistance, diode_drop, r2, r3, r4)
    return pilot.PilotCircuit(value, leakage, "normal", *parts).voltage(state, end)


QUANTITY = Quantity(
    id="pilot-series-resistance",
    meaning="extra series resistance in the pilot's loop that explains a voltage",
    unit="ohm",
    inputs=INPUTS,
    compute=pilot_series_resistance,
    inverses={"voltage": voltage_of_series},
    formula="Rx = Rs k / (1 - k) - Rv, k = (V - Vd) / (Vs - Vd); at the vehicle Rx = (Vs - Vd) Rv / (V - Vd) - Rs - Rv",
    source="the circuit of IEC 61851-1 Annex A; diode drop 0.7 V from memory",
    worked=(
        Worked({"voltage": 6.49, "state": "C"}, 169.1, 1.0, "computed"),
        Worked({"voltage": 7.0, "state": "C"}, 378.3, 1.0, "computed"),
        Worked({"voltage": 8.0, "state": "C"}, 943.3, 1.0, "computed"),
        Worked({"voltage": 5.267, "state": "C", "end": "vehicle"}, 300.0, 1.0, "computed"),
    ),
    hazard="live",
)
