"""Which single defect explains what was read of the pilot or of the proximity contact in this walk."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import isfinite

from diagtree.errors import OutOfRange
from diagtree.knowledge.words import Test
from diagtree.physics.defects.spot import spot_named
from diagtree.physics.units import unit
from diagtree.walk.ask_test import other_meter
from diagtree.walk.context import Walk
from diagtree.walk.judging import read, with_supplied
from diagtree.walk.route import Route
from diagtree.walk.state import State


def circuit_reasons(walk: Walk, state: State, found: Route) -> list[str]:
    """Return what the answered tests, and a reading still to be judged, say of the two signal circuits, as lines.

    A test says which observable it reads with `of:`. Nothing is said where no test read these circuits.
    """
    readings = _readings(walk, state, found)
    if not readings:
        return []
    # Only now: fault finding needs numpy, and most walks never read these circuits.
    from diagtree.physics.defects.readings import explanations
    from diagtree.physics.defects.spelled import NO_PROOF, circuit, verdict

    facts = with_supplied(walk.facts, state.facts)
    inlet = facts.get("inlet")
    try:
        findings = explanations(readings, inlet if isinstance(inlet, Mapping) else None)
    except OutOfRange as error:
        return [f"What was read of the circuit is not explained: {error}"]
    lines = []
    for one in findings:
        lines.append(f"Of the {circuit(one)}: {verdict(one)}; {one.reason}.")
        if one.next is not None:
            lines.append(f"What would tell them apart best: {one.next.name}")
    return [*lines, NO_PROOF] if lines else []


def _readings(walk: Walk, state: State, found: Route) -> dict[str, tuple[float, float]]:
    """Return observable to number [V, ohm] and standard uncertainty; of two readings of one, the later."""
    known: dict[str, tuple[float, float]] = {}
    for answer in found.answers.values():
        known |= _of_test(walk.test(answer.test), answer.values, answer.deviations)
    pending = state.measured
    if pending is not None:
        test = walk.test(pending.test)
        now = read(walk, test, pending.readings, other_meter(test, pending))
        known |= _of_test(test, now.values, now.deviations)
    return known


def _of_test(
    test: Test, values: Mapping[str, float], deviations: Mapping[str, float]
) -> dict[str, tuple[float, float]]:
    known = {}
    for item in test.reads:
        spot = spot_named(item.of or "")
        if spot is None or item.name not in values:
            continue
        wanted, measured_in, value = unit(spot.unit), unit(item.unit), values[item.name]
        if measured_in.dimension != wanted.dimension or (spot.unit == "V" and not isfinite(value)):
            continue  # OL at a voltage: the meter stood in the wrong range, and says nothing of the circuit
        scale = float(measured_in.convert(Fraction(1), wanted))
        known[spot.name] = (value * scale, deviations.get(item.name, 0.0) * scale)
    return known
