"""What a meter's DC range shows on the control pilot while the square wave runs."""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics import pilot_circuit as pilot
from diagtree.physics import pilot_inputs as inputs
from diagtree.physics.quantity import Quantity, Worked
from diagtree.physics.ranges import checked, plain

INPUTS = (inputs.DUTY, inputs.STATE, inputs.SERIES, inputs.LEAKAGE, inputs.END, inputs.DIODE, *inputs.STATION_PARTS)


@checked(*INPUTS)
def pilot_average(
    duty: float,
    state: str,
    series: float = 0.0,
    leakage: float = math.inf,
    end: str = "station",
    diode: str = "normal",
    generator: float = pilot.GENERATOR,
    source_resistance: float = pilot.SOURCE_RESISTANCE,
    diode_drop: float = pilot.DIODE_DROP,
) -> float:
    """Return the average of the running wave: what a multimeter on DC volts shows, negative as a rule. [V]

    duty : share of the period spent high, 0 to 100. [percent]
    state, series, leakage, end, diode and the parts : as for `pilot-voltage`.

    Meters settle differently on 1 kHz; allow 0.3 V (our assumption) or use an oscilloscope.
    Raises OutOfRange outside the ranges.
    Source: average of the two levels of IEC 61851-1 Annex A.
    """
    parts = (generator, source_resistance, diode_drop)
    return pilot.PilotCircuit(series, leakage, diode, *parts).average(state, duty, end)


@checked(inputs.renamed(inputs.VOLTAGE, "value"), *INPUTS[1:])
def duty_of_average(
    value: float,
    state: str,
    series: float = 0.0,
    leakage: float = math.inf,
    end: str = "station",
    diode: str = "normal",
    generator: float = pilot.GENERATOR,
    source_resistance: float = pilot.SOURCE_RESISTANCE,
    diode_drop: float = pilot.DIODE_DROP,
) -> float:
    """Return the duty cycle whose average is `value` [V]. [percent] Raises OutOfRange where there is none."""
    line = pilot.PilotCircuit(series, leakage, diode, generator, source_resistance, diode_drop)
    low, high = line.voltage(state, end, "negative"), line.voltage(state, end)
    if low == high or not low - 1e-9 <= value <= high + 1e-9:
        raise OutOfRange(
            f"`value` = {plain(value)} V is no average in state {state}: "
            f"type {low:.3f} to {high:.3f} V, or another state"
        )
    return min(max(100.0 * (value - low) / (high - low), 0.0), 100.0)


QUANTITY = Quantity(
    id="pilot-average",
    meaning="what a multimeter's DC range shows on the control pilot",
    unit="V",
    inputs=INPUTS,
    compute=pilot_average,
    inverses={"duty": duty_of_average},
    formula="V = d V+ + (1 - d) V-",
    source="average of the two levels of IEC 61851-1 Annex A; diode drop 0.7 V from memory",
    worked=(
        Worked({"duty": 10.0, "state": "B"}, -9.902, 0.01, "computed"),
        Worked({"duty": 26.6667, "state": "C"}, -7.201, 0.01, "computed"),
        Worked({"duty": 53.3333, "state": "B"}, -0.811, 0.01, "computed"),
        Worked({"duty": 53.3333, "state": "C", "diode": "shorted"}, 0.375, 0.01, "computed"),
    ),
    hazard="live",
)
