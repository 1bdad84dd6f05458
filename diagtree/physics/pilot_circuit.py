"""The control pilot as a circuit: what it reads in every state, at both ends, on both halves of the wave.

Station: +/-12 V through 1 kOhm to the pilot pin. Vehicle: pin -> diode -> resistors -> protective earth.
Source: IEC 61851-1 Annex A and SAE J1772, as given by open station firmware, two station manuals and a
calibration page; diode drop and resistor tolerances are from memory, and reproduce the remembered state bands.
"""

from __future__ import annotations

import math

from diagtree.records import dataclass

NONE = math.inf
"""Leakage resistance of a sound line. [ohm]"""

STATES = ("A", "B", "C", "D", "E", "F")
CONNECTED = ("B", "C", "D")
"""States with a vehicle on the line."""

ENDS = ("station", "vehicle")
HALVES = ("positive", "negative")
DIODES = ("normal", "shorted", "reversed", "open")

GENERATOR = 12.0
"""Level of the generator without load. [V]"""
SOURCE_RESISTANCE = 1000.0
"""Resistance between generator and pilot pin. [ohm]"""
DIODE_DROP = 0.7
"""Forward drop of the vehicle's diode, 0.55 to 0.85; from memory of SAE J1772. [V]"""
R2, R3, R4 = 2740.0, 1300.0, 270.0
"""Vehicle's resistors: R2 alone in state B, R2 with R3 in C, R2 with R4 in D. [ohm]"""


def parallel(*resistances: float) -> float:
    """Return the resistance of resistors side by side; infinity is an open one. [ohm]"""
    if any(one == 0.0 for one in resistances):
        return 0.0
    conductance = math.fsum(1.0 / one for one in resistances)
    return 1.0 / conductance if conductance > 0.0 else math.inf


@dataclass(frozen=True, slots=True)
class PilotCircuit:
    """One control pilot, healthy unless told otherwise.

    series : extra resistance in the loop of pilot and protective earth, station to vehicle pin. [ohm]
    leakage : resistance from pilot to earth on the station's or cable's side of the diode; infinity: none. [ohm]
    diode : the vehicle's diode: normal, shorted, reversed or open.
    generator, source_resistance, diode_drop, r2, r3, r4 : the parts. [V, ohm, V, ohm]
    """

    series: float = 0.0
    leakage: float = NONE
    diode: str = "normal"
    generator: float = GENERATOR
    source_resistance: float = SOURCE_RESISTANCE
    diode_drop: float = DIODE_DROP
    r2: float = R2
    r3: float = R3
    r4: float = R4

    def load(self, state: str) -> float:
        """Return the vehicle's resistance behind its diode in `state`; infinity without a vehicle. [ohm]"""
        if state == "C":
            return parallel(self.r2, self.r3)
        if state == "D":
            return parallel(self.r2, self.r4)
        return math.inf if state == "A" else self.r2

    def voltage(self, state: str, end: str = "station", half: str = "positive") -> float:
        """Return the voltage of the pilot pin against protective earth. [V]

        Half: of the running square wave, or the steady level. State F is the steady negative level on both
        halves, state E is 0 V. In state A nothing is plugged in, so the vehicle's own pin is at 0 V.
        """
        if state == "E" or (state == "A" and end == "vehicle"):
            return 0.0
        level = self.generator if half == "positive" and state != "F" else -self.generator
        return self.node_voltage(level, self.load(state), end)

    def node_voltage(self, level: float, load: float, end: str = "station") -> float:
        """Return the pin's voltage with the generator at `level` [V] and `load` [ohm] behind the diode. [V]

        With the diode conducting, the sum of the currents at the station's pin is 0:
        V = (level/Rs + Vd/(load + series)) / (1/Rs + 1/leakage + 1/(load + series)).
        """
        # Generator and leakage seen from the pin as one source: Thevenin's theorem.
        leaks = not math.isinf(self.leakage)
        open_voltage = level * self.leakage / (self.source_resistance + self.leakage) if leaks else level
        inner = parallel(self.source_resistance, self.leakage)
        drop = self._drop(open_voltage)
        branch = load + self.series
        if drop is None or math.isinf(branch):
            return open_voltage
        total = inner + branch
        current = (open_voltage - drop) / total if total > 0.0 else 0.0
        at_station = open_voltage - current * inner
        return at_station if end == "station" else at_station - current * self.series

    def average(self, state: str, duty: float, end: str = "station") -> float:
        """Return what a meter's DC range shows while the wave is high for `duty` per cent of the time. [V]"""
        share = duty / 100.0
        return share * self.voltage(state, end) + (1.0 - share) * self.voltage(state, end, "negative")

    def _drop(self, open_voltage: float) -> float | None:
        """Return the voltage across the conducting diode, signed; None where it blocks. [V]"""
        if self.diode == "shorted":
            return 0.0
        if self.diode == "normal" and open_voltage > self.diode_drop:
            return self.diode_drop
        if self.diode == "reversed" and open_voltage < -self.diode_drop:
            return -self.diode_drop
        return None
