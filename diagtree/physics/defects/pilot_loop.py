"""The control pilot with its stuck switch and its broken wire: `pilot_circuit` as a loop that can be read anywhere.

Tolerances of healthy parts: IEC 61851-1 Annex A by an open station stack's guide (generator +/-5 %, source resistance
970 to 1030 ohm); the vehicle's resistors +/-3 % and the diode's 0.55 to 0.85 V are from memory of the standard and of
SAE J1772. They reproduce the standard's state bands (tests/published).
"""

from __future__ import annotations

from math import sqrt

from diagtree.physics import pilot_circuit as pilot
from diagtree.physics.defects.spot import Spot
from diagtree.records import dataclass

PERCENT_GENERATOR, PERCENT_RESISTOR = 5.0, 3.0
"""Tolerance of the generator's two levels and of every resistor. [%]"""
DIODE_WIDTH = 0.15
"""Tolerance of the diode's drop, either way. [V]"""

SEEN = {"works": {}, "open": {"C": "B", "D": "B"}, "closed": {"B": "C"}}
"""Condition of switch S2: the state that is meant, to the state that the car makes."""


@dataclass(frozen=True, slots=True)
class PilotLoop:
    """One control pilot, healthy unless told otherwise. Fields as in PilotCircuit; the two levels vary by themselves.

    in_car : the leakage is in the car, not in station or cable: it is away while nothing is plugged in (state A).
    switch : S2, which adds R3: works, open (never goes to C) or closed. broken : the wire to the car is.
    """

    series: float = 0.0
    leakage: float = pilot.NONE
    in_car: bool = False
    diode: str = "normal"
    switch: str = "works"
    broken: bool = False
    generator_high: float = pilot.GENERATOR
    generator_low: float = pilot.GENERATOR
    source_resistance: float = pilot.SOURCE_RESISTANCE
    diode_drop: float = pilot.DIODE_DROP
    r2: float = pilot.R2
    r3: float = pilot.R3
    r4: float = pilot.R4

    def read(self, spot: Spot) -> float:
        """Return the voltage at a spot against protective earth. [V]"""
        if spot.duty is None:
            return self._level(spot, spot.half)
        share = spot.duty / 100.0
        return share * self._level(spot, "positive") + (1.0 - share) * self._level(spot, "negative")

    def parts(self) -> tuple[tuple[str, float], ...]:
        """Return each part and u = a / sqrt(3) of its tolerance a (JCGM 100:2008, 4.3.7)."""
        percents = {"generator_high": PERCENT_GENERATOR, "generator_low": PERCENT_GENERATOR}
        names = ("generator_high", "generator_low", "source_resistance", "r2", "r3", "r4")
        widths = [(name, getattr(self, name) * percents.get(name, PERCENT_RESISTOR) / 100.0) for name in names]
        return tuple((name, width / sqrt(3.0)) for name, width in (*widths, ("diode_drop", DIODE_WIDTH)))

    def _level(self, spot: Spot, half: str) -> float:
        if self.broken and spot.end == "vehicle":
            return 0.0
        circuit = pilot.PilotCircuit(
            self.series,
            pilot.NONE if self.in_car and spot.state == "A" else self.leakage,
            self.diode,
            self.generator_high if half == "positive" else self.generator_low,
            self.source_resistance,
            self.diode_drop,
            self.r2,
            self.r3,
            self.r4,
        )
        state = "A" if self.broken else SEEN[self.switch].get(spot.state, spot.state)
        return circuit.voltage(state, spot.end, half)
