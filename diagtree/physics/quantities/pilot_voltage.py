"""Voltage of the control pilot in states A to F, at either end, healthy or with one defect."""

from __future__ import annotations

import math

from diagtree.physics import pilot_circuit as pilot
from diagtree.physics import pilot_inputs as inputs
from diagtree.physics.pilot_readings import series_resistance
from diagtree.physics.quantity import Quantity, Worked
from diagtree.physics.ranges import checked

INPUTS = (inputs.STATE, inputs.SERIES, inputs.LEAKAGE, inputs.END, inputs.HALF, inputs.DIODE, *inputs.PARTS)


@checked(*INPUTS)
def pilot_voltage(
    state: str,
    series: float = 0.0,
    leakage: float = math.inf,
    end: str = "station",
    half: str = "positive",
    diode: str = "normal",
    generator: float = pilot.GENERATOR,
    source_resistance: float = pilot.SOURCE_RESISTANCE,
    diode_drop: float = pilot.DIODE_DROP,
    r2: float = pilot.R2,
    r3: float = pilot.R3,
    r4: float = pilot.R4,
) -> float:
    """Return the voltage of the control-pilot pin against protective earth. [V]

    state : A (nothing plugged in) to F (station not available); E is 0 V, F the steady negative level.
    series : extra resistance in the loop, 0 to 10 M. [ohm]
    leakage : from pilot to earth on the station's side of the diode, 0 to infinity (none). [ohm]
    end : station or vehicle; half : positive or negative level; diode : normal, shorted, reversed or open.
    generator, source_resistance, diode_drop, r2, r3, r4 : the parts, standard values by default. [V, ohm]

    Raises OutOfRange outside these ranges.
    Source: IEC 61851-1 Annex A, SAE J1772; the circuit's formula.
    """
    parts = (generator, source_resistance, diode_drop, r2, r3, r4)
    return pilot.PilotCircuit(series, leakage, diode, *parts).voltage(state, end, half)


@checked(
    inputs.renamed(inputs.VOLTAGE, "value"),
    inputs.CONNECTED_STATE,
    inputs.LEAKAGE,
    inputs.END,
    inputs.HALF,
    inputs.DIODE,
    *inputs.PARTS,
)
def series_of_voltage(
    value: float,
    state: str,
    leakage: float = math.inf,
    end: str = "station",
    half: str = "positive",
    diode: str = "normal",
    generator: float = pilot.GENERATOR,
    source_resistance: float = pilot.SOURCE_RESISTANCE,
    diode_drop: float = pilot.DIODE_DROP,
    r2: float = pilot.R2,
    r3: float = pilot.R3,
    r4: float = pilot.R4,
) -> float:
    """Return the extra series resistance that explains the level `value` [V] of one half at one end. [ohm]

    Raises OutOfRange where no current flows through the vehicle on that half, as on the negative one with a sound
    diode: such a level tells nothing about the loop.
    """
    if half == "negative":
        # The negative half with a diode one way is the positive half with the diode the other way, mirrored.
        value, diode = -value, {"normal": "reversed", "reversed": "normal"}.get(diode, diode)
    parts = (generator, source_resistance, diode_drop, r2, r3, r4)
    return series_resistance(value, state, end, pilot.PilotCircuit(0.0, leakage, diode, *parts))


QUANTITY = Quantity(
    id="pilot-voltage",
    meaning="voltage of the control pilot against protective earth",
    unit="V",
    inputs=INPUTS,
    compute=pilot_voltage,
    inverses={"series": series_of_voltage},
    formula="V = (Vs/Rs + Vd/(Rv+Rx)) / (1/Rs + 1/RL + 1/(Rv+Rx)) while the diode conducts, else Vs RL/(Rs+RL)",
    source="IEC 61851-1 Annex A and SAE J1772 (parts); diode drop 0.7 V from memory; nodal analysis",
    worked=(
        Worked({"state": "B"}, 8.979, 0.005, "computed by nodal analysis from the standard's parts"),
        Worked({"state": "C"}, 5.995, 0.005, "computed by nodal analysis from the standard's parts"),
        Worked({"state": "D"}, 2.929, 0.005, "computed by nodal analysis from the standard's parts"),
        Worked({"state": "C", "series": 300.0}, 6.821, 0.005, "computed by nodal analysis"),
        Worked({"state": "C", "series": 300.0, "end": "vehicle"}, 5.267, 0.005, "computed by nodal analysis"),
        Worked({"state": "B", "leakage": 2700.0}, 7.062, 0.005, "computed by nodal analysis"),
        Worked({"state": "C", "half": "negative", "diode": "shorted"}, -5.623, 0.005, "computed by nodal analysis"),
        Worked({"state": "F"}, -12.0, 0.0, "SAE J1772: -12.6 to -11.4 V steady"),
    ),
    hazard="live",
)
