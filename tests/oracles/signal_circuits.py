"""The pilot and proximity circuits by nodal analysis: a matrix of conductances and diodes that are on or off.

Independent of the formulas in `diagtree.physics`: written from the circuit diagram alone (IEC 61851-1 Annex A and B).
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, field

import numpy

WIRE = 1e-3
"""Resistance of a plain wire, and of a diode that conducts. [ohm]"""
AIR = 1e10
"""Resistance from every node to earth, so that none floats. [ohm]"""


@dataclass
class Net:
    """Resistors between nodes (0 is earth) and diodes with a drop; `volts` solves it."""

    nodes: int
    resistors: list[tuple[int, int, float]] = field(default_factory=list)
    sources: list[tuple[int, float, float]] = field(default_factory=list)  # node, volts, resistance in series
    diodes: list[tuple[int, int, float]] = field(default_factory=list)  # anode, cathode, drop

    def volts(self) -> list[float]:
        """Return the voltage of every node; the diodes' states are the ones that contradict nothing."""
        for states in itertools.product((False, True), repeat=len(self.diodes)):
            found = self._solve(states)
            if all(self._agrees(found, diode, on) for diode, on in zip(self.diodes, states, strict=True)):
                return found
        raise AssertionError("no state of the diodes agrees with itself")

    def _solve(self, states: tuple[bool, ...]) -> list[float]:
        matrix = numpy.zeros((self.nodes + 1, self.nodes + 1))
        currents = numpy.zeros(self.nodes + 1)
        conducting = [(*diode[:2], WIRE) for diode, on in zip(self.diodes, states, strict=True) if on]
        for one, other, ohms in [*self.resistors, *conducting, *((node, 0, AIR) for node in range(1, self.nodes + 1))]:
            if math.isinf(ohms):
                continue
            siemens = 1.0 / max(ohms, WIRE)
            for node, sign in ((one, 1.0), (other, -1.0)):
                matrix[node, one] += sign * siemens
                matrix[node, other] -= sign * siemens
        for node, volts, ohms in self.sources:
            matrix[node, node] += 1.0 / ohms
            currents[node] += volts / ohms
        for (anode, cathode, drop), on in zip(self.diodes, states, strict=True):
            if on:
                currents[anode] += drop / WIRE
                currents[cathode] -= drop / WIRE
        return [0.0, *numpy.linalg.solve(matrix[1:, 1:], currents[1:])]

    def _agrees(self, volts: list[float], diode: tuple[int, int, float], on: bool) -> bool:
        anode, cathode, drop = diode
        across = volts[anode] - volts[cathode]
        return across >= drop - 1e-9 if on else across <= drop + 1e-9


@dataclass
class Pilot:
    """Parts and defect of one pilot. broken: the wire to the car is. in_car: the leakage is at the car's pin."""

    high: float = 12.0
    low: float = -12.0
    source: float = 1000.0
    drop: float = 0.7
    r2: float = 2740.0
    r3: float = 1300.0
    r4: float = 270.0
    series: float = 0.0
    leakage: float = math.inf
    in_car: bool = False
    diode: str = "normal"
    switch: str = "works"
    broken: bool = False

    def volts(self, end: str, state: str, level: float) -> float:
        """Return what a perfect meter shows with the generator at `level`."""
        net = Net(3)  # 1: station's pin, 2: car's pin, 3: behind the diode
        net.sources.append((1, level, self.source))
        net.resistors.append((2 if self.in_car else 1, 0, self.leakage))
        if state != "A" and not self.broken:
            net.resistors.append((1, 2, self.series))
        if self.diode == "shorted":
            net.resistors.append((2, 3, WIRE))
        elif self.diode != "open":
            net.diodes.append((2, 3, self.drop) if self.diode == "normal" else (3, 2, self.drop))
        net.resistors.append((3, 0, self.r2))
        if (state == "C" and self.switch != "open") or (state == "B" and self.switch == "closed"):
            net.resistors.append((3, 0, self.r3))
        if state == "D" and self.switch != "open":
            net.resistors.append((3, 0, self.r4))
        return float(net.volts()[1 if end == "station" else 2])

    def average(self, end: str, state: str, duty: float) -> float:
        """Return the mean over one period of the wave."""
        high, low = self.volts(end, state, self.high), self.volts(end, state, self.low)
        return duty / 100.0 * high + (1.0 - duty / 100.0) * low


@dataclass
class Proximity:
    """Parts and defect of one proximity circuit. A plug without a button has `button` 0."""

    supply: float = 5.0
    up: float = 330.0
    down: float = 2700.0
    resistor: float = 150.0
    button: float = 330.0
    switch: str = "works"
    contact: float = 0.0
    leakage: float = math.inf
    broken: bool = False

    def plug(self, state: str) -> float:
        """Return what an ohmmeter shows at the plug by itself. [ohm]"""
        opened = state == "unlatched" if self.switch == "works" else self.switch == "open"
        return self.resistor + (self.button if opened else 0.0)

    def volts(self, state: str) -> float:
        """Return what a perfect meter shows at the car's pin."""
        net = Net(3)  # 1: car's pin, 2: inlet's contact, 3: plug
        if math.isfinite(self.up):
            net.sources.append((1, self.supply, self.up))
        net.resistors += [(1, 2, math.inf if self.broken else WIRE), (2, 0, self.down), (2, 0, self.leakage)]
        if state != "empty":
            net.resistors += [(2, 3, self.contact), (3, 0, self.plug(state))]
        return float(net.volts()[1])
