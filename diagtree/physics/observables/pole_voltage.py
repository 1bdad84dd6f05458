"""Voltage of the poles of the high-voltage system to chassis."""

from __future__ import annotations

import math

from diagtree.physics import insulation
from diagtree.physics.ac_charge import pole_insulation
from diagtree.physics.assumed import POLE
from diagtree.physics.dc_charge import battery_voltage
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup

METER = 10e6
"""Resistance of the voltmeter. [ohm]"""


def _pole(setup: Setup, pole: str) -> float:
    negative, positive = (pole_insulation(setup, one, POLE.value) for one in ("DC-", "DC+"))
    side = "positive" if pole == "DC+" else "negative"
    return insulation.reading(battery_voltage(setup), negative, positive, side, math.inf, side, METER)


OBSERVABLE = Observable(
    id="pole-voltage",
    kind="voltage",
    details=(("DC+", "DC-"), ("chassis",)),
    unit="V",
    meaning="voltage of one pole to chassis, system live, by a meter of 10 Mohm",
    changed_by=("DC+", "DC-"),
    compute=_pole,
    source="UN Regulation 100, two-voltage method",
    assumes="5 Mohm at each sound pole (estimate)",
    hazard="high-voltage",
)
