"""Readings by the names of observables to findings: the face for walks, and for whoever reads a car.

Names are those of `spot`; readings of anything else are passed over.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import isinf

from diagtree.errors import OutOfRange
from diagtree.physics.defects.defect import HEALTHY
from diagtree.physics.defects.finding import Finding, find
from diagtree.physics.defects.pilot_loop import PilotLoop
from diagtree.physics.defects.proximity_loop import CODED, ProximityLoop, bounded, coded_loop, latch_loop
from diagtree.physics.defects.spot import PILOT, PROXIMITY, Spot, spot_named
from diagtree.physics.proximity_circuit import PULL_UP
from diagtree.physics.quantity import Facts


def explanations(readings: Mapping[str, tuple[float, float]], inlet: Facts | None = None) -> tuple[Finding, ...]:
    """Return a finding for each circuit, pilot first, of which something was read; none where nothing was.

    readings : observable to the number [V, ohm; infinity for OL] and its standard uncertainty in the same unit.
    inlet : the vehicle profile's inlet, `type` and `proximity: {pull_down}`; without both the proximity circuit is
    left out, since the maker's value is not known. Of a type 2 plug that coding is assumed which fits best.
    Raises OutOfRange where a number is none.
    """
    named = {spot: pair for name, pair in readings.items() if (spot := spot_named(name)) is not None}
    found = []
    pilot = {spot: as_level(spot, *pair) for spot, pair in named.items() if spot.circuit == PILOT}
    if pilot:
        found.append(find(PilotLoop(), pilot))
    proximity = {spot: as_level(spot, *pair) for spot, pair in named.items() if spot.circuit == PROXIMITY}
    if proximity:
        tried = [find(loop, proximity) for loop in proximity_loops(inlet or {})]
        found += sorted(tried, key=_misfit_of_healthy)[:1]
    return tuple(found)


def as_level(spot: Spot, number: float, deviation: float) -> tuple[float, float]:
    """Return a reading as a loop gives it: a plug's resistance as its share of a divider, its uncertainty with it.

    Raises OutOfRange for OL at a voltage, NaN, and resistances below 0.
    """
    if spot.unit != "ohm":
        if number != number or isinf(number):
            raise OutOfRange(f"{spot.name} = {number!r} is no level: type the volts that the meter shows")
        return number, deviation
    if not number >= 0.0:
        raise OutOfRange(f"{spot.name} = {number!r} is no resistance: type 0 ohm or more, or OL")
    if isinf(number):
        return 1.0, 0.0
    return bounded(number), deviation * PULL_UP / (number + PULL_UP) ** 2


def proximity_loops(inlet: Facts) -> tuple[ProximityLoop, ...]:
    """Return the healthy circuits that may be meant on this car: one, or one for each coding; none where unknown."""
    kind, circuit = inlet.get("type"), inlet.get("proximity")
    down = circuit.get("pull_down") if isinstance(circuit, Mapping) else None
    if not isinstance(kind, str) or not isinstance(down, (int, float)) or not down > 0.0:
        return ()
    if kind.startswith("type-1"):
        return (latch_loop(float(down)),)
    return tuple(coded_loop(resistor, float(down)) for resistor in CODED) if kind.startswith("type-2") else ()


def _misfit_of_healthy(finding: Finding) -> float:
    return next(one.misfit for one in finding.explanations if one.defect == HEALTHY)
