"""The proximity contact: what a plug's resistor says, and what the car's pin reads.

Source: IEC 61851-1 Annex B and IEC 62196-2 for the coding, as given by an open station stack's guide; the
vehicle's circuit (330 ohm to 5 V, 2.7 or 4.7 kOhm to earth) and its voltages by a charge controller's manual.
"""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics.pilot_circuit import parallel
from diagtree.physics.ranges import plain

SUPPLY = 5.0
"""Supply of the vehicle's proximity circuit. [V]"""
PULL_UP = 330.0
"""Vehicle's resistor to the supply. [ohm]"""
PULL_DOWN_TYPE_1 = 2700.0
"""Vehicle's resistor to earth at a type 1 or CCS1 inlet. [ohm]"""
PULL_DOWN_CCS2 = 4700.0
"""Vehicle's resistor to earth at a CCS2 inlet. [ohm]"""

LATCHED, PRESSED = 150.0, 480.0
"""A type 1 plug between proximity and earth: latched, and with its release button pressed. [ohm]"""

CODING = ((80.0, 140.0, 63.0), (164.0, 308.0, 32.0), (400.0, 936.0, 20.0), (1100.0, 2460.0, 13.0))
"""Accepted lowest and highest resistance of a type 2 plug [ohm] and the current it allows [A]."""

SHORTED_BELOW, OPEN_ABOVE = 60.0, 4500.0
"""Outside these a type 2 plug counts as no cable. [ohm]"""

SINGLE_PHASE_TOP = 70.0
"""Current of the 100 ohm plug on one phase, where three phases carry 63. [A]"""


def coded_current(resistance: float, phases: int = 3) -> float:
    """Return the current that a type 2 plug's resistor allows; 0 where it counts as no cable. [A]

    Between two bands the lower current holds.
    """
    if not SHORTED_BELOW <= resistance <= OPEN_ABOVE:
        return 0.0
    if phases == 1 and CODING[0][0] <= resistance <= CODING[0][1]:
        return SINGLE_PHASE_TOP
    # The bands ascend in ohms and descend in amperes, so the first whose top is not passed is also the lower one
    # of a gap; above the last band 13 A stays until the plug counts as open.
    return next((current for _, high, current in CODING if resistance <= high), CODING[-1][2])


def pin_voltage(plug: float, pull_down: float, pull_up: float = PULL_UP, supply: float = SUPPLY) -> float:
    """Return the voltage of the car's proximity pin with `plug` [ohm] to earth; infinity: nothing plugged in. [V]"""
    down = parallel(plug, pull_down)
    return supply if math.isinf(down) else supply * down / (pull_up + down)


def plug_resistance(voltage: float, pull_down: float, pull_up: float = PULL_UP, supply: float = SUPPLY) -> float:
    """Return the plug's resistance to earth from the voltage of the car's pin; infinity: nothing plugged in. [ohm]

    A little more than an empty inlet's voltage, which tolerances explain, is infinity too.
    Raises OutOfRange from half-way to the supply on: there the wire is open before the car's own pull-down.
    """
    highest = pin_voltage(math.inf, pull_down, pull_up, supply)
    if not 0.0 <= voltage <= (highest + supply) / 2.0:
        raise OutOfRange(
            f"`voltage` = {plain(voltage)} V is not between 0 and the {highest:.3f} V of an empty inlet: "
            "is the wire open before the car's own pull-down, or the supply not what was given?"
        )
    if voltage == 0.0:
        return 0.0
    conductance = (supply - voltage) / (pull_up * voltage) - 1.0 / pull_down
    return 1.0 / conductance if conductance > 1e-12 else math.inf
