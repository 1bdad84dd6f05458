"""The pilot's edges: how capacitance from pilot to earth slows them.

The pin is charged through the source resistance alone until the vehicle's diode conducts, then through source and
vehicle resistance side by side. Levels of the edges: IEC 61851-1, as given by an open station stack's guide.
"""

from __future__ import annotations

import math

from diagtree.physics.pilot_circuit import PilotCircuit

EDGE_LEVELS = {"B": (-9.9, 6.9), "C": (-10.2, 4.2)}
"""10 and 90 % levels between which an edge is timed, by state. [V]"""


def edge_constant(edge: str, state: str, circuit: PilotCircuit | None = None) -> float:
    """Return the time of an edge per capacitance, `rise` or `fall`, in state B or C. [ohm]"""
    line = circuit or PilotCircuit()
    low, high = EDGE_LEVELS[state]
    if edge == "rise":
        return _passage(line, state, line.generator, (low, high))
    return _passage(line, state, -line.generator, (high, low))


def pulse_top(capacitance: float, duty: float, state: str, frequency: float, circuit: PilotCircuit) -> float:
    """Return the level a pulse reaches that starts from the negative level. [V]

    capacitance : from pilot to earth [F]; duty : of the period spent high [percent]; frequency : of the wave [Hz].
    """
    left = duty / 100.0 / frequency
    start = -circuit.generator
    if capacitance == 0.0:
        return circuit.voltage(state)
    until_diode = _slope_time(circuit.source_resistance, circuit.generator, start, circuit.diode_drop) * capacitance
    if left <= until_diode:
        return _level(circuit.generator, start, left / (circuit.source_resistance * capacitance))
    resistance, final = _loaded(circuit, state)
    return _level(final, circuit.diode_drop, (left - until_diode) / (resistance * capacitance))


def _passage(line: PilotCircuit, state: str, target: float, between: tuple[float, float]) -> float:
    """Return the time per capacitance from one level to another, past the level where the diode switches. [ohm]"""
    begin, end = between
    knee = line.diode_drop
    resistance, final = _loaded(line, state, target)
    unloaded = (line.source_resistance, target)
    first, second = (unloaded, (resistance, final)) if begin < end else ((resistance, final), unloaded)
    return _slope_time(*first, begin, knee) + _slope_time(*second, knee, end)


def _loaded(line: PilotCircuit, state: str, level: float | None = None) -> tuple[float, float]:
    """Return the resistance that charges the pin, and the level it tends to, while the diode conducts. [ohm, V]"""
    load = line.load(state)
    source = line.source_resistance
    target = line.generator if level is None else level
    return source * load / (source + load), (target * load + line.diode_drop * source) / (source + load)


def _slope_time(resistance: float, target: float, begin: float, end: float) -> float:
    """Return the time per capacitance in which a level moves from `begin` to `end` on its way to `target`. [ohm]"""
    return resistance * math.log((target - begin) / (target - end))


def _level(target: float, begin: float, time_constants: float) -> float:
    """Return the level after some time constants on the way from `begin` to `target`. [V]"""
    return target + (begin - target) * math.exp(-time_constants)
