"""The pilot and proximity lines of a car with faults, on the circuits of `pilot_circuit` and `proximity_circuit`."""

from __future__ import annotations

import math
from dataclasses import replace

from diagtree.physics import proximity_circuit as proximity
from diagtree.physics.assumed import PLUG
from diagtree.physics.data import PILOT_WINDOWS
from diagtree.physics.inlet_sensor import CONNECTOR, wiring
from diagtree.physics.part import fault
from diagtree.physics.pilot_circuit import PilotCircuit, parallel
from diagtree.physics.setup import Setup

PLUG_STATES = ("empty", "latched", "unlatched")
"""Nothing plugged in; plug in place; plug in place with its release button pressed (type 1 only)."""


def pilot(setup: Setup) -> PilotCircuit:
    """Return the control pilot with its faults."""
    circuit = PilotCircuit(
        series=setup.value("pilot", "series", 0.0) + wiring(setup, CONNECTOR),
        leakage=setup.value("pilot", "leakage", math.inf),
    )
    for word in ("shorted", "open", "reversed"):
        if setup.has("pilot", f"diode-{word}"):
            circuit = replace(circuit, diode=word)
    return replace(circuit, series=math.inf) if setup.has("pilot", "open") else circuit


def pilot_voltage(setup: Setup, end: str, state: str, half: str = "positive") -> float:
    """Return the pilot's level while the car asks for `state`. [V] Wire broken: no vehicle for the station."""
    circuit = pilot(setup)
    if setup.has("pilot", "stuck-in-b") and state in ("C", "D"):
        state = "B"
    if setup.has("pilot", "stuck-in-c") and state == "B":
        state = "C"
    if math.isinf(circuit.series) and end == "vehicle":
        return 0.0
    return circuit.voltage(state, end, half)


def asks_for_charge(setup: Setup) -> bool:
    """Return whether the station sees state C, and a sound negative half, when the car asks for it."""
    positive = pilot_voltage(setup, "station", "C")
    negative = pilot_voltage(setup, "station", "C", "negative")
    return PILOT_WINDOWS["C"].holds(positive) and PILOT_WINDOWS["F"].holds(negative)


def type_1(setup: Setup) -> bool:
    """Return whether the inlet is of type 1, whose plug has a release button."""
    return setup.word("inlet.type").startswith("type-1")


def plug_resistance(setup: Setup, state: str = "latched") -> float:
    """Return the resistance between proximity and earth in the plug. [ohm]

    Type 1 by its button, type 2 the coding of a cable for 32 A.
    """
    if state == "empty" or setup.has("plug", "open"):
        return math.inf
    if setup.has("plug", "shorted"):
        return 0.0
    sound = PLUG.value
    if type_1(setup):
        pressed = state == "unlatched" or setup.has("plug", "button-stuck")
        sound = proximity.PRESSED if pressed else proximity.LATCHED
    return setup.value("plug", "coded", sound)


def proximity_voltage(setup: Setup, state: str) -> float:
    """Return the voltage of the car's proximity pin against earth. [V]

    Raises OutOfRange, naming the fact, where the profile gives a resistor that is none; the values of the standard
    circuit of the inlet's type stand in for an unknown one.
    """
    plug = plug_resistance(setup, state)
    supply = setup.number("inlet.proximity.supply", low=1.0, high=30.0, unit="V", standard=proximity.SUPPLY)
    usual = proximity.PULL_DOWN_TYPE_1 if type_1(setup) else proximity.PULL_DOWN_CCS2
    pull_down = setup.number("inlet.proximity.pull_down", low=100.0, high=1e6, unit="ohm", standard=usual)
    pull_up = setup.number("inlet.proximity.pull_up", low=10.0, high=1e6, unit="ohm", standard=proximity.PULL_UP)
    if setup.has("proximity", "pull-up-open") or setup.has("proximity", "shorted"):
        return 0.0
    if setup.has("proximity", "pull-down-open"):
        pull_down = math.inf
    if setup.has("proximity", "open"):
        plug = math.inf
    outside = plug + setup.value("proximity", "series", 0.0) + wiring(setup, CONNECTOR)
    outside = parallel(outside, setup.value("proximity", "leakage", math.inf))
    return proximity.pin_voltage(outside, pull_down, pull_up, supply)


def plug_recognised(setup: Setup) -> bool:
    """Return whether the car takes the plug for plugged in and latched, from the voltage of its pin.

    The border to a pressed button (type 1) lies half-way; type 2 has the borders of the coding.
    """
    sound = Setup(setup.facts)
    voltage = proximity_voltage(setup, "latched")
    if type_1(setup):
        latched, pressed = (proximity_voltage(sound, state) for state in ("latched", "unlatched"))
        return latched / 2.0 < voltage < (latched + pressed) / 2.0
    lowest, highest = (_with_plug(sound, ohms) for ohms in (proximity.SHORTED_BELOW, proximity.OPEN_ABOVE))
    return lowest <= voltage <= highest


def _with_plug(setup: Setup, ohms: float) -> float:
    return proximity_voltage(Setup(setup.facts, {"plug": fault("plug", ohms)}), "latched")
