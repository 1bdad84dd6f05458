"""Charge of a 12 V AGM battery from its voltage at rest."""

from __future__ import annotations

from diagtree.physics.data import REST_VOLTAGES
from diagtree.physics.lines import interpolated
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

VOLTAGE = Input("voltage", "V", "voltage after hours without load", 11.6, 12.7)
VALUE = Input("value", "percent", "charge of a 12 V AGM battery at rest", 10.0, 100.0)


@checked(VOLTAGE)
def rest_charge(voltage: float) -> float:
    """Return the charge of a 12 V AGM battery at rest. [percent]

    voltage : voltage after hours without load, 11.6 to 12.7. [V]

    Read after a couple of hours of rest at least, better after eight.
    Raises OutOfRange outside these ranges.
    Source: 12 V AGM table at aussieeuropeantour.com, one source and not a maker.
    """
    return interpolated(voltage, REST_VOLTAGES)


@checked(VALUE)
def voltage_of_rest_charge(value: float) -> float:
    """Return the rest voltage at the charge `value` [percent]. [V]"""
    return interpolated(value, tuple((charge, volts) for volts, charge in REST_VOLTAGES))


QUANTITY = Quantity(
    id="rest-charge",
    meaning="charge of a 12 V AGM battery at rest",
    unit="percent",
    inputs=(VOLTAGE,),
    compute=rest_charge,
    inverses={"voltage": voltage_of_rest_charge},
    formula="straight lines between the rows 11.6 V 10 % ... 12.7 V 100 %",
    source="12 V AGM table at aussieeuropeantour.com, one source and not a maker",
    worked=(
        Worked({"voltage": 12.7}, 100.0, 0.001, "printed in that table"),
        Worked({"voltage": 12.1}, 50.0, 0.001, "printed in that table"),
    ),
)
