"""Voltage of the control pilot in states A to F, at either end, healthy or with one defect."""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics import pilot_circuit as pilot
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked, plain

INPUTS = (
    Input("state", "word", "state of the control pilot", words=pilot.STATES),
    Input("series", "ohm", "extra resistance in the loop of pilot and earth", 0.0, 1e7, 0.0),
    Input("leakage", "ohm", "leakage from pilot to earth before the diode", 0.0, math.inf, math.inf),
    Input("end", "word", "where it is measured", default="station", words=pilot.ENDS),
    Input("half", "word", "which level of the wave", default="positive", words=pilot.HALVES),
    Input("diode", "word", "condition of the vehicle's diode", default="normal", words=pilot.DIODES),
    Input("generator", "V", "generator's level without load", 1.0, 20.0, pilot.GENERATOR),
    Input("source_resistance", "ohm", "resistance in the station", 100.0, 10000.0, pilot.SOURCE_RESISTANCE),
    Input("diode_drop", "V", "forward drop of the diode", 0.0, 1.5, pilot.DIODE_DROP),
    Input("r2", "ohm", "vehicle's resistor of state B", 10.0, 1e6, pilot.R2),
    Input("r3", "ohm", "vehicle's resistor added in state C", 10.0, 1e6, pilot.R3),
    Input("r4", "ohm", "vehicle's resistor added in state D", 10.0, 1e6, pilot.R4),
)


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
    Input("value", "V", "positive level at the station", 0.0, 20.0),
    INPUTS[0],
    *INPUTS[2:3],
    *INPUTS[6:],
)
def series_from_voltage(
    value: float,
    state: str,
    leakage: float = math.inf,
    generator: float = pilot.GENERATOR,
    source_resistance: float = pilot.SOURCE_RESISTANCE,
    diode_drop: float = pilot.DIODE_DROP,
    r2: float = pilot.R2,
    r3: float = pilot.R3,
    r4: float = pilot.R4,
) -> float:
    """Return the extra series resistance that explains the positive level `value` [V] at the station. [ohm]

    state : B, C or D. A reading below the healthy one raises OutOfRange: that is leakage or a lower resistor.
    """
    if state not in pilot.CONNECTED:
        raise OutOfRange(f"`state` = {state!r} has no vehicle on the line: type one of {', '.join(pilot.CONNECTED)}")
    circuit = pilot.PilotCircuit(0.0, leakage, "normal", generator, source_resistance, diode_drop, r2, r3, r4)
    extra = pilot.branch_resistance(value, circuit) - circuit.load(state)
    if extra < -1e-6:
        healthy = circuit.voltage(state)
        raise OutOfRange(
            f"`value` = {plain(value)} V is below the {healthy:.3f} V of a healthy state {state}: no series resistance "
            "explains it; look for leakage, a shorted diode or a wrong state"
        )
    return max(extra, 0.0)


QUANTITY = Quantity(
    id="pilot-voltage",
    meaning="voltage of the control pilot against protective earth",
    unit="V",
    inputs=INPUTS,
    compute=pilot_voltage,
    inverses={"series": series_from_voltage},
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
