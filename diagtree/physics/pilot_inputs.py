"""Inputs that the control-pilot quantities share, each with its range and its standard value."""

from __future__ import annotations

import math

from diagtree.physics import pilot_circuit as pilot
from diagtree.physics.quantity import Input

STATE = Input("state", "word", "state of the control pilot", words=pilot.STATES)
CONNECTED_STATE = Input("state", "word", "state with a vehicle on the line", words=pilot.CONNECTED)
END = Input("end", "word", "where it is measured", default="station", words=pilot.ENDS)
HALF = Input("half", "word", "which level of the wave", default="positive", words=pilot.HALVES)
DIODE = Input("diode", "word", "condition of the vehicle's diode", default="normal", words=pilot.DIODES)
SERIES = Input("series", "ohm", "extra resistance in the loop of pilot and earth", 0.0, 1e7, 0.0)
LEAKAGE = Input("leakage", "ohm", "leakage from pilot to earth before the diode", 0.0, math.inf, math.inf)
GENERATOR = Input("generator", "V", "generator's level without load", 1.0, 20.0, pilot.GENERATOR)
SOURCE_RESISTANCE = Input("source_resistance", "ohm", "resistance in the station", 100.0, 10e3, pilot.SOURCE_RESISTANCE)
DIODE_DROP = Input("diode_drop", "V", "forward drop of the diode", 0.0, 1.5, pilot.DIODE_DROP)
R2 = Input("r2", "ohm", "vehicle's resistor of state B", 10.0, 1e6, pilot.R2)
R3 = Input("r3", "ohm", "vehicle's resistor added in state C", 10.0, 1e6, pilot.R3)
R4 = Input("r4", "ohm", "vehicle's resistor added in state D", 10.0, 1e6, pilot.R4)
STATION_PARTS = (GENERATOR, SOURCE_RESISTANCE, DIODE_DROP)
PARTS = (*STATION_PARTS, R2, R3, R4)

VOLTAGE = Input("voltage", "V", "level of the pilot pin against protective earth", -20.0, 20.0)
POSITIVE_LEVEL = Input("voltage", "V", "positive level of the pilot pin against protective earth", 0.0, 20.0)
DUTY = Input("duty", "percent", "share of the pilot's period spent high", 0.0, 100.0)
CAPACITANCE = Input("capacitance", "F", "total capacitance from pilot to earth", 0.0, 1e-6)
EDGE = Input("edge", "word", "which edge", default="rise", words=("rise", "fall"))
EDGE_STATE = Input("state", "word", "state of the control pilot", default="B", words=("B", "C"))


def renamed(wanted: Input, name: str) -> Input:
    """Return the same input under another name; inverses call theirs `value`."""
    return Input(name, wanted.unit, wanted.meaning, wanted.low, wanted.high, None, wanted.words)
