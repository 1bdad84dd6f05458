"""Time a capacitor takes to fall to a voltage through its discharge resistor."""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked, plain

VOLTAGE = Input("voltage", "V", "voltage at the start", 0.001, 1500.0)
RESISTANCE = Input("resistance", "ohm", "resistance that discharges", 0.001, 1e9)
CAPACITANCE = Input("capacitance", "F", "capacitance of the circuit", 1e-12, 1.0)
LIMIT = Input("limit", "V", "voltage to fall to", 0.001, 1500.0, 60.0)
TIME = Input("value", "s", "time to the limit", 0.0, 1e9)


def _logarithm(voltage: float, limit: float) -> float:
    """Return ln(voltage/limit). Raises OutOfRange where the start is below the limit."""
    if voltage < limit:
        raise OutOfRange(
            f"`voltage` = {plain(voltage)} V is below the limit already: type {plain(limit)} V or more, "
            "or a lower `limit`"
        )
    return math.log(voltage / limit)


@checked(VOLTAGE, RESISTANCE, CAPACITANCE, LIMIT)
def discharge_time(voltage: float, resistance: float, capacitance: float, limit: float = 60.0) -> float:
    """Return the time until the voltage has fallen to the limit. [s]

    voltage : at the start, up to 1500. [V]
    resistance : that discharges; capacitance : of the circuit. [ohm, F]
    limit : 60 V where not given, the end of voltage class B for DC. [V]

    Raises OutOfRange outside the ranges or where the start is below the limit. A computed time never replaces
    the maker's waiting time, nor the proof by measurement.
    Source: exponential discharge; 60 V DC by UN Regulation 100 and ISO 6469-3.
    """
    return resistance * capacitance * _logarithm(voltage, limit)


@checked(TIME, VOLTAGE, CAPACITANCE, LIMIT)
def resistance_for_time(value: float, voltage: float, capacitance: float, limit: float = 60.0) -> float:
    """Return the largest resistance that discharges within `value` [s]. [ohm]"""
    logarithm = _logarithm(voltage, limit)
    return value / (capacitance * logarithm) if logarithm > 0.0 else math.inf


@checked(TIME, VOLTAGE, RESISTANCE, LIMIT)
def capacitance_for_time(value: float, voltage: float, resistance: float, limit: float = 60.0) -> float:
    """Return the largest capacitance that is discharged within `value` [s]. [F]"""
    logarithm = _logarithm(voltage, limit)
    return value / (resistance * logarithm) if logarithm > 0.0 else math.inf


QUANTITY = Quantity(
    id="discharge-time",
    meaning="time until a high-voltage circuit has fallen to a voltage",
    unit="s",
    inputs=(VOLTAGE, RESISTANCE, CAPACITANCE, LIMIT),
    compute=discharge_time,
    inverses={"resistance": resistance_for_time, "capacitance": capacitance_for_time},
    formula="t = R C ln(V0 / Vlimit)",
    source="exponential discharge; 60 V DC: UN Regulation 100, ISO 6469-3",
    worked=(
        Worked({"voltage": 400.0, "resistance": 50e3, "capacitance": 1e-3}, 94.86, 0.1, "computed"),
        Worked({"voltage": 400.0, "resistance": 2636.0, "capacitance": 1e-3}, 5.0, 0.01, "computed"),
        Worked({"voltage": 400.0, "resistance": 50e3, "capacitance": 1e-3, "limit": 30.0}, 129.5, 0.1, "computed"),
    ),
    hazard="high-voltage",
)
