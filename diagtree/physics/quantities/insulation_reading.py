"""Voltage of one side of a bus to chassis, for given insulation."""

from __future__ import annotations

import math

from diagtree.physics import insulation
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

BUS = Input("bus", "V", "voltage of the bus", 1.0, 1500.0)
NEGATIVE_LEAK = Input("negative_leak", "ohm", "insulation of the negative side", 0.0, math.inf)
POSITIVE_LEAK = Input("positive_leak", "ohm", "insulation of the positive side", 0.0, math.inf)
SIDE = Input("side", "word", "side that is measured", words=("negative", "positive"))
KNOWN = Input("known", "ohm", "known resistor fitted on that side; infinity: none", 100.0, math.inf, math.inf)
METER = Input("meter", "ohm", "resistance of the meter", 100000.0, math.inf, math.inf)


@checked(BUS, NEGATIVE_LEAK, POSITIVE_LEAK, SIDE, KNOWN, METER)
def insulation_reading(
    bus: float, negative_leak: float, positive_leak: float, side: str, known: float = math.inf, meter: float = math.inf
) -> float:
    """Return the voltage of one side of a bus to chassis. [V]

    bus : voltage of the bus, 1 to 1500. [V]
    negative_leak : insulation of the negative side, 0 to infinity. [ohm]
    positive_leak : insulation of the positive side, 0 to infinity. [ohm]
    side : side that is measured.
    known : known resistor fitted on that side; infinity: none, 100 to infinity. [ohm]
    meter : resistance of the meter, 100000 to infinity. [ohm]

    Raises OutOfRange outside these ranges and where both sides are perfect, so that the chassis floats.
    Source: voltage divider of the UN Regulation 100 method.
    """
    return insulation.reading(bus, negative_leak, positive_leak, side, known, side, meter)


QUANTITY = Quantity(
    id="insulation-reading",
    meaning="voltage of one side of a bus to chassis",
    unit="V",
    inputs=(BUS, NEGATIVE_LEAK, POSITIVE_LEAK, SIDE, KNOWN, METER),
    compute=insulation_reading,
    formula="V = Vb Rside / (Rnegative + Rpositive), known resistor and meter in parallel",
    source="voltage divider of the UN Regulation 100 method",
    worked=(
        Worked(
            {"bus": 400.0, "negative_leak": 200e3, "positive_leak": 1.8e6, "side": "positive"}, 360.0, 0.001, "computed"
        ),
        Worked(
            {"bus": 400.0, "negative_leak": 200e3, "positive_leak": 1.8e6, "side": "positive", "known": 40e3},
            65.4545,
            0.001,
            "computed",
        ),
        Worked(
            {"bus": 400.0, "negative_leak": 200e3, "positive_leak": 1.8e6, "side": "negative", "meter": 10e6},
            39.293,
            0.001,
            "computed",
        ),
    ),
    hazard="high-voltage",
)
