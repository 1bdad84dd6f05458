"""Insulation resistance of a high-voltage bus by two voltages and a known resistor."""

from __future__ import annotations

from diagtree.physics import insulation
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

BUS = Input("bus", "V", "voltage of the bus", 1.0, 1500.0)
NEGATIVE = Input("negative", "V", "negative side to chassis, without the resistor", 0.0, 1500.0)
POSITIVE = Input("positive", "V", "positive side to chassis, without the resistor", 0.0, 1500.0)
KNOWN = Input("known", "ohm", "the known resistor", 100.0, 1e7)
SIDE = Input("side", "word", "side where the known resistor was fitted", words=("negative", "positive"))
WITH_KNOWN = Input("with_known", "V", "that side to chassis, with the resistor", 1e-6, 1500.0)
VALUE = Input("value", "ohm", "insulation resistance of the weaker side of a bus", 0.0, 1e15)


@checked(BUS, NEGATIVE, POSITIVE, KNOWN, SIDE, WITH_KNOWN)
def insulation_resistance(
    bus: float, negative: float, positive: float, known: float, side: str, with_known: float
) -> float:
    """Return the insulation resistance of the weaker side of a bus. [ohm]

    bus : voltage of the bus, 1 to 1500. [V]
    negative : negative side to chassis, without the resistor, 0 to 1500. [V]
    positive : positive side to chassis, without the resistor, 0 to 1500. [V]
    known : the known resistor, 100 to 1e7. [ohm]
    side : side where the known resistor was fitted.
    with_known : that side to chassis, with the resistor, 1e-6 to 1500. [V]

    For trained persons: the bus is live. Voltmeter of 10 Mohm or more; wait for steady readings (Y capacitors).
    The resistor belongs on the side with the higher voltage to chassis. On the other side the formula would give
    the healthy side, a dangerous pass: that is refused.

    Raises OutOfRange outside these ranges and for the resistor on the wrong side.
    Source: UN Regulation 100, insulation annex; three public copies agree.
    """
    return insulation.resistance(bus, negative, positive, known, side, with_known)


@checked(VALUE, BUS, NEGATIVE, POSITIVE, KNOWN, SIDE)
def with_known_of_insulation_resistance(
    value: float, bus: float, negative: float, positive: float, known: float, side: str
) -> float:
    """Return what the side with the resistor reads at an insulation of `value` [ohm]. [V]"""
    return insulation.with_known(value, bus, negative, positive, known, side)


QUANTITY = Quantity(
    id="insulation-resistance",
    meaning="insulation resistance of the weaker side of a bus",
    unit="ohm",
    inputs=(BUS, NEGATIVE, POSITIVE, KNOWN, SIDE, WITH_KNOWN),
    compute=insulation_resistance,
    inverses={"with_known": with_known_of_insulation_resistance},
    formula="Ri = Ro Vb (1/V' - 1/V), Ro on the side with the higher voltage to chassis",
    source="UN Regulation 100, insulation annex; three public copies agree",
    worked=(
        Worked(
            {
                "bus": 400.0,
                "negative": 40.0,
                "positive": 360.0,
                "known": 40e3,
                "side": "positive",
                "with_known": 65.4545,
            },
            200e3,
            5.0,
            "computed by the annex: 500 ohm/V",
        ),
        Worked(
            {
                "bus": 400.0,
                "negative": 394.089,
                "positive": 5.911,
                "known": 40e3,
                "side": "negative",
                "with_known": 226.629,
            },
            30e3,
            5.0,
            "computed by the annex: 75 ohm/V, too low",
        ),
    ),
    hazard="high-voltage",
)
