"""Insulation by two voltages and a known resistor (UN Regulation 100 annex; US 49 CFR 571.305 S7.6).

For trained persons only: the bus is live while it is measured. Voltmeter of 10 Mohm or more.
"""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics.pilot_circuit import parallel
from diagtree.physics.ranges import plain

SIDES = ("negative", "positive")

ALIKE = 1e-3
"""Share by which the voltages of both sides may differ and still count as the same. [-]"""


def side_voltage(bus: float, negative: float, positive: float, side: str) -> float:
    """Return the voltage between one side and the chassis. [V]

    bus : voltage of the bus [V]; negative, positive : all that connects that side to the chassis [ohm].
    """
    if math.isinf(negative) and math.isinf(positive):
        raise OutOfRange("both sides are perfectly insulated: the chassis floats and no voltage to it is defined")
    if math.isinf(negative):
        share = 1.0
    elif math.isinf(positive):
        share = 0.0
    elif negative + positive == 0.0:
        raise OutOfRange("both sides are shorted to the chassis: the bus itself is shorted")
    else:
        share = negative / (negative + positive)
    return bus * (share if side == "negative" else 1.0 - share)


def reading(
    bus: float, negative: float, positive: float, side: str, known: float, known_side: str, meter: float
) -> float:
    """Return what a meter of resistance `meter` shows between `side` and chassis, the known resistor fitted. [V]

    known : infinity where none is fitted; known_side : where it is. Resistances in ohm.
    """
    loads = {one: [leak] for one, leak in zip(SIDES, (negative, positive), strict=True)}
    loads[known_side].append(known)
    loads[side].append(meter)
    return side_voltage(bus, parallel(*loads["negative"]), parallel(*loads["positive"]), side)


def resistor_side(negative: float, positive: float) -> str:
    """Return the side to which the known resistor belongs: the one with the higher voltage to chassis."""
    return "negative" if negative >= positive else "positive"


def resistance(bus: float, negative: float, positive: float, known: float, side: str, with_known: float) -> float:
    """Return the insulation resistance of the weaker side. [ohm]

    bus, negative, positive : voltages of the bus and of both sides to chassis, without the resistor. [V]
    known : the resistor [ohm]; side : where it was put; with_known : that side's voltage with it. [V]

    Raises OutOfRange where the resistor was on the side with the lower voltage: that would give the resistance of
    the healthy side, a dangerous pass.
    """
    right = resistor_side(negative, positive)
    # Sides that read alike have alike insulation: there either gives the same result.
    if side != right and abs(negative - positive) > ALIKE * max(negative, positive):
        raise OutOfRange(
            f"`side` = {side!r} is the wrong side: {plain(negative)} V to negative and {plain(positive)} V to positive "
            f"ask for the resistor between {right} and chassis. This reading would give the healthy side, a dangerous "
            f"pass: fit the resistor on the {right} side and measure again"
        )
    without = negative if side == "negative" else positive
    if not 0.0 < with_known <= without:
        raise OutOfRange(
            f"`with_known` = {plain(with_known)} V must be above 0 and not above the {plain(without)} V without the "
            "resistor: type the voltage of the same side, resistor fitted, reading steady"
        )
    if negative + positive > 1.1 * bus:
        raise OutOfRange(
            f"`bus` = {plain(bus)} V is less than the {plain(negative + positive)} V of both sides together: "
            "measure the bus again"
        )
    return known * bus * (1.0 / with_known - 1.0 / without)


def with_known(insulation: float, bus: float, negative: float, positive: float, known: float, side: str) -> float:
    """Return the voltage of the side with the known resistor at an insulation of the other side. [V]

    The inverse of `resistance`, with the same units.
    """
    without = negative if side == "negative" else positive
    if without <= 0.0:
        raise OutOfRange(f"the {side} side reads 0 V to chassis: the resistor belongs on the other side")
    return 1.0 / (insulation / (known * bus) + 1.0 / without)
