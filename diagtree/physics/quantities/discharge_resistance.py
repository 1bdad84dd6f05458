"""Largest resistance that discharges a circuit in time."""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked, plain

VOLTAGE = Input("voltage", "V", "voltage at the start", 0.001, 1500.0)
CAPACITANCE = Input("capacitance", "F", "capacitance of the circuit", 1e-12, 1.0)
TIME = Input("time", "s", "time allowed", 0.001, 1e6)
LIMIT = Input("limit", "V", "voltage to fall to", 0.001, 1500.0, 60.0)
VALUE = Input("value", "ohm", "largest resistance that discharges a circuit in time", 0.0, 1e300)


@checked(VOLTAGE, CAPACITANCE, TIME, LIMIT)
def discharge_resistance(voltage: float, capacitance: float, time: float, limit: float = 60.0) -> float:
    """Return the largest resistance that discharges a circuit in time. [ohm]

    voltage : voltage at the start, 0.001 to 1500. [V]
    capacitance : capacitance of the circuit, 1e-12 to 1. [F]
    time : time allowed, 0.001 to 1e6. [s]
    limit : voltage to fall to, 0.001 to 1500. [V]

    Raises OutOfRange outside these ranges and where the start is below the limit.
    Source: exponential discharge; 60 V DC: UN Regulation 100, ISO 6469-3.
    """
    if voltage <= limit:
        raise OutOfRange(f"`voltage` = {plain(voltage)} V is not above the limit: type more than {plain(limit)} V")
    return time / (capacitance * math.log(voltage / limit))


@checked(VALUE, VOLTAGE, CAPACITANCE, LIMIT)
def time_of_discharge_resistance(value: float, voltage: float, capacitance: float, limit: float = 60.0) -> float:
    """Return the time in which the resistance `value` [ohm] discharges. [s]"""
    if voltage <= limit:
        raise OutOfRange(f"`voltage` = {plain(voltage)} V is not above the limit: type more than {plain(limit)} V")
    return value * capacitance * math.log(voltage / limit)


QUANTITY = Quantity(
    id="discharge-resistance",
    meaning="largest resistance that discharges a circuit in time",
    unit="ohm",
    inputs=(VOLTAGE, CAPACITANCE, TIME, LIMIT),
    compute=discharge_resistance,
    inverses={"time": time_of_discharge_resistance},
    formula="R = t / (C ln(V0 / Vlimit))",
    source="exponential discharge; 60 V DC: UN Regulation 100, ISO 6469-3",
    worked=(
        Worked({"voltage": 400.0, "capacitance": 1e-3, "time": 5.0}, 2636.0, 1.0, "computed"),
        Worked({"voltage": 800.0, "capacitance": 1e-3, "time": 5.0}, 1930.0, 1.0, "computed"),
    ),
    hazard="high-voltage",
)
