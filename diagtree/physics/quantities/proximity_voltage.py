"""Voltage of the car's proximity pin for a plug's resistance."""

from __future__ import annotations

import math

from diagtree.physics import proximity_circuit as proximity
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

PLUG = Input("plug", "ohm", "resistance of the plug between proximity and earth; infinity: none", 0.0, math.inf)
VOLTAGE = Input("value", "V", "voltage of the car's proximity pin", 0.0, 30.0)
PULL_DOWN = Input(
    "pull_down",
    "ohm",
    "car's resistor to earth: 2700 at type 1 and CCS1, 4700 at CCS2",
    100.0,
    math.inf,
    proximity.PULL_DOWN_CCS2,
)
PULL_UP = Input("pull_up", "ohm", "car's resistor to its supply", 10.0, 100000.0, proximity.PULL_UP)
SUPPLY = Input("supply", "V", "supply of the car's proximity circuit", 1.0, 30.0, proximity.SUPPLY)


@checked(PLUG, PULL_DOWN, PULL_UP, SUPPLY)
def proximity_voltage(
    plug: float,
    pull_down: float = proximity.PULL_DOWN_CCS2,
    pull_up: float = proximity.PULL_UP,
    supply: float = proximity.SUPPLY,
) -> float:
    """Return the voltage of the car's proximity pin against earth. [V]

    plug : resistance of the plug, 0 to infinity (nothing plugged in). [ohm]
    pull_down, pull_up, supply : the car's circuit; 4.7 kOhm, 330 ohm and 5 V where not given. [ohm, ohm, V]

    Raises OutOfRange outside these ranges.
    Source: user manual of a vehicle charge controller (2021), p. 162 and 219.
    """
    return proximity.pin_voltage(plug, pull_down, pull_up, supply)


@checked(VOLTAGE, PULL_DOWN, PULL_UP, SUPPLY)
def plug_from_voltage(
    value: float,
    pull_down: float = proximity.PULL_DOWN_CCS2,
    pull_up: float = proximity.PULL_UP,
    supply: float = proximity.SUPPLY,
) -> float:
    """Return the plug's resistance from the pin's voltage `value` [V]. [ohm]"""
    return proximity.plug_resistance(value, pull_down, pull_up, supply)


QUANTITY = Quantity(
    id="proximity-voltage",
    meaning="voltage of the car's proximity pin",
    unit="V",
    inputs=(PLUG, PULL_DOWN, PULL_UP, SUPPLY),
    compute=proximity_voltage,
    inverses={"plug": plug_from_voltage},
    formula="V = U Rp / (Rup + Rp), Rp = plug parallel pull-down",
    source="user manual of a vehicle charge controller (2021), p. 162 and 219; voltage divider",
    worked=(
        Worked({"plug": math.inf, "pull_down": 2700.0}, 4.455, 0.005, "computed; 4.4 V printed in the manual"),
        Worked({"plug": 480.0, "pull_down": 2700.0}, 2.763, 0.005, "computed; 2.75 V printed"),
        Worked({"plug": 150.0, "pull_down": 2700.0}, 1.505, 0.005, "computed; 1.5 V printed"),
        Worked({"plug": 1500.0}, 3.875, 0.005, "computed"),
        Worked({"plug": 220.0}, 1.945, 0.005, "computed"),
    ),
    hazard="live",
)
