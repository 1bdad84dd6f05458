"""Insulation resistance by the formula that adds both voltages instead of reading the bus."""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics import insulation
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

NEGATIVE = Input("negative", "V", "negative side to chassis, without the resistor", 0.0, 1500.0)
POSITIVE = Input("positive", "V", "positive side to chassis, without the resistor", 0.0, 1500.0)
KNOWN = Input("known", "ohm", "the known resistor", 100.0, 1e7)
SIDE = Input("side", "word", "side where the known resistor was fitted", words=("negative", "positive"))
WITH_KNOWN = Input("with_known", "V", "that side to chassis, with the resistor", 1e-6, 1500.0)


@checked(NEGATIVE, POSITIVE, KNOWN, SIDE, WITH_KNOWN)
def insulation_resistance_us(negative: float, positive: float, known: float, side: str, with_known: float) -> float:
    """Return the insulation resistance of the weaker side, without reading the bus. [ohm]

    negative : negative side to chassis, without the resistor, 0 to 1500. [V]
    positive : positive side to chassis, without the resistor, 0 to 1500. [V]
    known : the known resistor, 100 to 1e7. [ohm]
    side : side where the known resistor was fitted.
    with_known : that side to chassis, with the resistor, 1e-6 to 1500. [V]

    The meter's own resistance loads both readings, so the result is low: prefer `insulation-resistance`.
    Raises OutOfRange outside these ranges and for the resistor on the wrong side.
    Source: US 49 CFR 571.305 S7.6, from memory; equals the UN form where Vb = V1 + V2.
    """
    bus = negative + positive
    if bus <= 0.0:
        raise OutOfRange("`negative` and `positive` are both 0 V: measure both sides to chassis, without the resistor")
    return insulation.resistance(bus, negative, positive, known, side, with_known)


QUANTITY = Quantity(
    id="insulation-resistance-us",
    meaning="insulation resistance of the weaker side, without reading the bus",
    unit="ohm",
    inputs=(NEGATIVE, POSITIVE, KNOWN, SIDE, WITH_KNOWN),
    compute=insulation_resistance_us,
    formula="Ri = Ro (1 + V2/V1) (V1 - V1') / V1', mirrored for the other side",
    source="US 49 CFR 571.305 S7.6, from memory; equals the UN form where Vb = V1 + V2",
    worked=(
        Worked(
            {"negative": 39.2927, "positive": 353.6346, "known": 40e3, "side": "positive", "with_known": 65.2411},
            196460.0,
            100.0,
            "computed: a 10 Mohm meter loads the sum; with the bus read apart it is 200.0 kohm",
        ),
    ),
    hazard="high-voltage",
)
