"""What a reading at the control pilot means: the circuit of `pilot_circuit` solved backwards.

Every function takes the circuit whose other parts are trusted and returns the one value that explains the reading.
"""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics.data import PILOT_BANDS
from diagtree.physics.pilot_circuit import PilotCircuit, parallel
from diagtree.physics.ranges import plain


def vehicle_resistance(voltage: float, circuit: PilotCircuit, end: str = "station") -> float:
    """Return the resistance behind the diode that gives the positive level `voltage` [V]. [ohm]

    At the station's end the series resistance of the loop is part of it, at the vehicle's end it is not.
    Raises OutOfRange where the level is not between the diode's drop and the level without load.
    """
    drop = 0.0 if circuit.diode == "shorted" else circuit.diode_drop
    free = circuit.node_voltage(circuit.generator, math.inf)
    if circuit.diode in ("reversed", "open") or not drop <= voltage <= free:
        raise OutOfRange(
            f"`voltage` = {plain(voltage)} V tells no resistance behind the diode: "
            f"type {plain(drop)} to {plain(free)} V, the positive level"
        )
    if voltage == free:
        return math.inf
    upstream = parallel(circuit.source_resistance, circuit.leakage) + (circuit.series if end == "vehicle" else 0.0)
    return upstream * (voltage - drop) / (free - voltage)


def series_resistance(voltage: float, state: str, end: str, circuit: PilotCircuit) -> float:
    """Return the extra series resistance that explains the positive level `voltage` [V] in a state B, C or D. [ohm]

    The station's pin reads high, the vehicle's pin low. A level on the other side of the nominal one, yet within the
    tolerance of healthy parts, means 0.
    Raises OutOfRange where the level departs farther to the other side: that is another defect.
    """
    healthy = circuit.voltage(state)
    load = circuit.load(state)
    drop = 0.0 if circuit.diode == "shorted" else circuit.diode_drop
    if end == "station":
        extra = vehicle_resistance(voltage, circuit) - load
    elif voltage <= drop or circuit.diode in ("reversed", "open"):
        raise OutOfRange(
            f"`voltage` = {plain(voltage)} V at the vehicle: no current flows through the loop, so it tells no series "
            "resistance; the pilot is open, or its diode is"
        )
    else:
        free = circuit.node_voltage(circuit.generator, math.inf)
        inner = parallel(circuit.source_resistance, circuit.leakage)
        extra = (free - drop) * load / (voltage - drop) - inner - load
    if extra < 0.0 and abs(voltage - healthy) > _spread(state, end):
        side = "below" if end == "station" else "above"
        raise OutOfRange(
            f"`voltage` = {plain(voltage)} V is {side} the {healthy:.3f} V of a healthy state {state}: no series "
            f"resistance explains that at the {end}'s end; look for leakage, a shorted diode or another state"
        )
    return max(extra, 0.0)


def leakage_resistance(voltage: float, state: str, circuit: PilotCircuit) -> float:
    """Return the leakage from pilot to earth that explains a level at the station. [ohm]

    voltage : the negative level in any state, or the positive level in `state` (A: nothing plugged in). [V]
    A level beyond the nominal one, yet within the tolerance of healthy parts, means infinity.
    Raises OutOfRange farther beyond: leakage draws a level towards 0.
    """
    half = "negative" if voltage < 0.0 else "positive"
    healthy = abs(circuit.voltage(state, half=half))
    level = abs(voltage)
    if level > healthy + _spread(state if half == "positive" else "A", "vehicle"):
        raise OutOfRange(
            f"`voltage` = {plain(voltage)} V is beyond the healthy {healthy:.3f} V: leakage only draws a level towards "
            "0. Type at most that, or measure the generator without load and give it as `generator`"
        )
    into_load = 0.0
    if half == "positive" and state != "A" and level > circuit.diode_drop:
        into_load = (level - circuit.diode_drop) / (circuit.load(state) + circuit.series)
    leaking = (circuit.generator - level) / circuit.source_resistance - into_load
    return level / leaking if leaking > 1e-12 else math.inf


def _spread(state: str, end: str) -> float:
    """Return how far a healthy level may lie below (station) or above (vehicle) the nominal one. [V]"""
    nominal, band = PilotCircuit().voltage(state), PILOT_BANDS[state]
    return nominal - band.lowest if end == "station" else band.highest - nominal
