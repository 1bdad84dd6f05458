"""Whether a type 1 plug is latched, pressed or not there, from the voltage of the car's proximity pin."""

from __future__ import annotations

from diagtree.physics import proximity_circuit as proximity
from diagtree.physics.quantities.proximity_resistance import VOLTAGE
from diagtree.physics.quantity import Input
from diagtree.physics.ranges import checked
from diagtree.physics.verdict import Spelled, Verdict

PULL_DOWN = Input("pull_down", "ohm", "car's resistor to earth", 100.0, 1e6, proximity.PULL_DOWN_TYPE_1)

WIDTH = 0.2
"""A resistance within this share of its nominal counts as that one: an open vehicle project's choice. [-]"""


@checked(VOLTAGE, PULL_DOWN)
def proximity_latch(voltage: float, pull_down: float = proximity.PULL_DOWN_TYPE_1) -> str:
    """Return what a type 1 plug does: latched, button pressed, nothing plugged in, or a fault.

    voltage : of the car's proximity pin against earth, 0 to 30. [V]
    pull_down : the car's resistor to earth, 2700 where not given. [ohm]

    Raises OutOfRange outside these ranges.
    Source: user manual of a vehicle charge controller (2021), p. 162; +/-20 % by the open project ccs32clara.
    """
    empty = proximity.pin_voltage(proximity.OPEN_ABOVE, pull_down)
    if voltage >= proximity.SUPPLY - 0.05:
        return "fault: the wire is open before the car's own resistor"
    if voltage >= empty:
        return "nothing plugged in"
    plug = proximity.plug_resistance(voltage, pull_down)
    for nominal, words in ((proximity.LATCHED, "latched"), (proximity.PRESSED, "button pressed")):
        if abs(plug - nominal) <= WIDTH * nominal:
            return words
    return "fault: short to earth" if plug < proximity.SHORTED_BELOW else "fault: neither latched nor pressed"


VERDICT = Verdict(
    id="proximity-latch",
    meaning="what a type 1 plug does, from the voltage of the car's proximity pin",
    inputs=(VOLTAGE, PULL_DOWN),
    compute=proximity_latch,
    rule="plug of 150 ohm +/-20 % latched, 480 ohm +/-20 % pressed, above 4500 ohm nothing plugged in, else a fault",
    source="user manual of a vehicle charge controller (2021), p. 162; +/-20 % by the open project ccs32clara",
    worked=(
        Spelled({"voltage": 1.5}, "latched", "1.5 V printed in the manual"),
        Spelled({"voltage": 2.75}, "button pressed", "2.75 V printed in the manual"),
        Spelled({"voltage": 4.45}, "nothing plugged in", "4.4 V printed in the manual, rounded"),
        Spelled({"voltage": 0.0}, "fault: short to earth", "from the circuit"),
        Spelled({"voltage": 5.0}, "fault: the wire is open before the car's own resistor", "from the circuit"),
    ),
    hazard="live",
)
