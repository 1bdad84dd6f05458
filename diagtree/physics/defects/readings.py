"""Readings by the names of observables to findings: the face for walks, and for whoever reads a car.

Names are those of `spot`; readings of anything else are passed over.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import isinf

from diagtree.errors import OutOfRange
from diagtree.physics.defects.defect import HEALTHY
from diagtree.physics.defects.finding import Finding, find
from diagtree.physics.defects.pilot_loop import PilotLoop
from diagtree.physics.defects.proximity_loop import CODED, ProximityLoop, bounded, coded_loop
from diagtree.physics.defects.spot import PILOT, PROXIMITY, Spot, spot_named
from diagtree.physics.proximity_circuit import PULL_UP
from diagtree.physics.quantity import Facts


def explanations(readings: Mapping[str, tuple[float, float]], inlet: Facts | None = None) -> tuple[Finding, ...]:
    """Return a finding for each circuit, pilot first, of which something was read; none where nothing was.

    readings : observable to the number [V, ohm; infinity for OL] and its standard uncertainty in the same unit.
    inlet : the vehicle profile's inlet, `type` and `proximity: {pull_down: ...}`; without both the proximity circuit is
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
    if not isinstance(kind, str) or not isinstance(circuit, Mapping):
        return ()
    down = circuit.get("pull_down")
    if not _is_known(down):
        return ()
    plugs = (ProximityLoop(),) if kind.startswith("type-1") else tuple(coded_loop(one) for one in CODED)
    return tuple(_in_car(plug, circuit) for plug in plugs) if kind.startswith(("type-1", "type-2")) else ()


def _in_car(plug: ProximityLoop, circuit: Facts) -> ProximityLoop:
    """Return the plug in this car's circuit; a standard value stands for what the profile leaves out."""
    down, up, supply = (circuit.get(name) for name in ("pull_down", "pull_up", "supply"))
    return replace(
        plug,
        pull_down=down if isinstance(down, float | int) else plug.pull_down,
        pull_up=up if isinstance(up, float | int) else plug.pull_up,
        supply=supply if isinstance(supply, float | int) else plug.supply,
    )


def _is_known(value: object) -> bool:
    return isinstance(value, float | int) and value > 0.0


def _misfit_of_healthy(finding: Finding) -> float:
    return next(one.misfit for one in finding.explanations if one.defect == HEALTHY)
