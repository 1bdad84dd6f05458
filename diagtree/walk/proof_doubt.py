"""What was watched at a proof charge, held against the catalogue's own limits for the same thing.

No limit is made up here. What a test of the catalogue reads too (`_SAME`) is judged by that test. How much warmer the
inlet got is judged by the test of its rise, but the start of this charge was not noted: so that is only asked back.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import isfinite

from diagtree.errors import DiagtreeError
from diagtree.knowledge.words import Cause, Test
from diagtree.physics.reading import Reading, parse_reading
from diagtree.walk.context import Walk
from diagtree.walk.events import Answered, ProofCharged
from diagtree.walk.judging import Readings, TypedFacts, Verdict, verdict, with_supplied
from diagtree.walk.watched import most_power

WARMEST_AIR = 40.0
"""Warmest air that a charging station is made for, outdoors (IEC 61851-1, from memory). [degC]"""
_FAR_BELOW = 0.5  # asked back below this share of what the car takes: our choice, nothing is judged by it. [-]
_SAME = {
    "charger_temperature": "temperature(charger, charging",
    "insulation": "insulation(DC+)",
    "parked_current": "current(12 V battery, parked)",
}
"""What is watched to what a test of the catalogue calls it. Not the 12 V supply: a car may rest its converter."""


def beyond_limit(walk: Walk, charged: ProofCharged, supplied: TypedFacts) -> str:
    """Return which thing watched a test of the catalogue calls not healthy on this car; "" where none."""
    for name, text in charged.seen.items():
        for test in walk.catalogue.tests.values() if name in _SAME else ():
            only = test.reads[0] if len(test.reads) == 1 else None
            if only is None or only.of is None or not only.of.startswith(_SAME[name]):
                continue
            found = _judged(walk, test, {only.name: _number(text, only.unit)}, supplied)
            if found is not None and found.judged.outcome != test.healthy:
                return f"{name.replace('_', ' ')} {text}: test `{test.id}` calls that {found.judged.outcome}"
    return ""


def doubts(
    walk: Walk, cause: Cause, charged: ProofCharged, answered: Iterable[Answered], supplied: TypedFacts
) -> tuple[str, ...]:
    """Return what to look at once more before the car is called fixed; nothing of it says that it is not."""
    return tuple(filter(None, (_weak(walk, cause, charged, supplied), _warm(walk, cause, charged, answered, supplied))))


def _weak(walk: Walk, cause: Cause, charged: ProofCharged, supplied: TypedFacts) -> str:
    assert cause.proof is not None
    most = most_power(cause.proof.charge, with_supplied(walk.facts, supplied))
    power = _number(charged.power, "kW")
    if most is None or power is None or power.value >= _FAR_BELOW * most:
        return ""
    return f"{power.value:g} kW is far below the {most:.3g} kW that this car takes"


def _warm(
    walk: Walk, cause: Cause, charged: ProofCharged, answered: Iterable[Answered], supplied: TypedFacts
) -> str:
    assert cause.proof is not None
    text = charged.seen.get("inlet_temperature", "")
    sensor = f"inlet.{cause.proof.charge}_sensor"
    wanted = f"temperature({sensor}, charging"
    before = {item.test: item.values for item in answered}
    for test in walk.catalogue.tests.values():
        highest = next((one for one in test.reads if (one.of or "").startswith(wanted)), None)
        start = next((one for one in test.reads if one is not highest), None)
        if highest is None or start is None or len(test.reads) != 2:
            continue
        # What a broken sensor showed before the repair is no start to count from.
        known = before.get(test.id, {}).get(start.name) if sensor not in cause.fault else None
        known = known if known is not None and isfinite(known) else None  # nor is `OL`
        since = parse_reading(f"{WARMEST_AIR if known is None else known:g}", start.unit)
        found = _judged(walk, test, {highest.name: _number(text, highest.unit), start.name: since}, supplied)
        if found is not None and found.judged.outcome != test.healthy:
            told = "at its test today" if known is not None else "of the warmest day"
            return (
                f"{text} at the inlet is {found.value:.0f} degrees above the {since.value:g} degC {told}: "
                f"test `{test.id}` calls such a rise {found.judged.outcome}"
            )
    return ""


def _number(text: str, unit: str) -> Reading | None:
    try:
        return parse_reading(text.partition(" (")[0], unit)  # behind it stands what was said of the number
    except DiagtreeError:  # `not seen`, or words
        return None


def _judged(walk: Walk, test: Test, read: Mapping[str, Reading | None], supplied: TypedFacts) -> Verdict | None:
    parsed = {name: reading for name, reading in read.items() if reading is not None}
    if len(parsed) < len(read):
        return None
    try:
        return verdict(walk, test, Readings({}, parsed, {}, dict.fromkeys(parsed, 0.0)), supplied)
    except DiagtreeError:  # a maker's value is not known: then there is no limit
        return None
