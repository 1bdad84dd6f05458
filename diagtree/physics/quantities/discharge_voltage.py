"""Voltage of a discharging circuit after a time."""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked, plain

VOLTAGE = Input("voltage", "V", "voltage at the start", 0.001, 1500.0)
RESISTANCE = Input("resistance", "ohm", "resistance that discharges", 0.001, 1e9)
CAPACITANCE = Input("capacitance", "F", "capacitance of the circuit", 1e-12, 1.0)
TIME = Input("time", "s", "time since it was switched off", 0.0, 1e7)
VALUE = Input("value", "V", "voltage of a discharging circuit after a time", 1e-9, 1500.0)


@checked(VOLTAGE, RESISTANCE, CAPACITANCE, TIME)
def discharge_voltage(voltage: float, resistance: float, capacitance: float, time: float) -> float:
    """Return the voltage of a discharging circuit after a time. [V]

    voltage : voltage at the start, 0.001 to 1500. [V]
    resistance : resistance that discharges, 0.001 to 1e9. [ohm]
    capacitance : capacitance of the circuit, 1e-12 to 1. [F]
    time : time since it was switched off, 0 to 1e7. [s]

    A computed voltage never replaces the proof of absence by measurement.
    Raises OutOfRange outside these ranges.
    Source: exponential discharge.
    """
    return voltage * math.exp(-time / (resistance * capacitance))


@checked(VALUE, VOLTAGE, RESISTANCE, CAPACITANCE)
def time_of_discharge_voltage(value: float, voltage: float, resistance: float, capacitance: float) -> float:
    """Return the time until the voltage is `value` [V]. [s]"""
    if value > voltage:
        raise OutOfRange(
            f"`value` = {plain(value)} V is above the voltage at the start: type at most {plain(voltage)} V"
        )
    return resistance * capacitance * math.log(voltage / value)


QUANTITY = Quantity(
    id="discharge-voltage",
    meaning="voltage of a discharging circuit after a time",
    unit="V",
    inputs=(VOLTAGE, RESISTANCE, CAPACITANCE, TIME),
    compute=discharge_voltage,
    inverses={"time": time_of_discharge_voltage},
    formula="V = V0 exp(-t / (R C))",
    source="exponential discharge",
    worked=(
        Worked({"voltage": 400.0, "resistance": 50e3, "capacitance": 1e-3, "time": 60.0}, 120.48, 0.1, "computed"),
    ),
    hazard="high-voltage",
)
