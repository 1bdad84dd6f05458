"""Resistance of the plug that the voltage of the car's proximity pin means."""

from __future__ import annotations

from diagtree.physics import proximity_circuit as proximity
from diagtree.physics.quantities.proximity_voltage import PLUG, PULL_DOWN, PULL_UP, SUPPLY
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

VOLTAGE = Input("voltage", "V", "voltage of the car's proximity pin", 0.0, 30.0)
VALUE = Input("value", PLUG.unit, PLUG.meaning, PLUG.low, PLUG.high)


@checked(VOLTAGE, PULL_DOWN, PULL_UP, SUPPLY)
def proximity_resistance(
    voltage: float,
    pull_down: float = proximity.PULL_DOWN_CCS2,
    pull_up: float = proximity.PULL_UP,
    supply: float = proximity.SUPPLY,
) -> float:
    """Return the plug's resistance between proximity and earth; infinity: nothing plugged in. [ohm]

    voltage : of the car's pin against earth, 0 to that of an empty inlet. [V]
    pull_down, pull_up, supply : the car's circuit; 4.7 kOhm, 330 ohm and 5 V where not given. [ohm, ohm, V]

    Raises OutOfRange above the voltage of an empty inlet.
    Source: the divider of the user manual of a vehicle charge controller (2021), p. 219, solved for the plug.
    """
    return proximity.plug_resistance(voltage, pull_down, pull_up, supply)


@checked(VALUE, PULL_DOWN, PULL_UP, SUPPLY)
def voltage_from_plug(
    value: float,
    pull_down: float = proximity.PULL_DOWN_CCS2,
    pull_up: float = proximity.PULL_UP,
    supply: float = proximity.SUPPLY,
) -> float:
    """Return the pin's voltage with the plug's resistance `value` [ohm]. [V]"""
    return proximity.pin_voltage(value, pull_down, pull_up, supply)


QUANTITY = Quantity(
    id="proximity-resistance",
    meaning="resistance of the plug, from the voltage of the car's proximity pin",
    unit="ohm",
    inputs=(VOLTAGE, PULL_DOWN, PULL_UP, SUPPLY),
    compute=proximity_resistance,
    inverses={"voltage": voltage_from_plug},
    formula="Rp = Rup V / (U - V), Rplug = 1 / (1/Rp - 1/Rdown)",
    source="voltage divider; circuit by the user manual of a vehicle charge controller (2021), p. 219",
    worked=(Worked({"voltage": 1.5, "pull_down": 2700.0}, 149.2, 0.5, "computed from the printed circuit"),),
    hazard="live",
)
