"""Which single defect explains the readings: every explanation with its misfit, ranked, and the verdict.

The verdict names a defect where it fits and the next best one misfits by more than 4 more, the readings' expanded
uncertainty (k = 2) squared. Otherwise it is "cannot tell". A defect whose value cannot be told from none at all
(a series resistance of 0 ohm fits nearly as well) is no rival of the explanation that nothing is wrong.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite, sqrt

from diagtree.errors import OutOfRange, WrongUse
from diagtree.physics.defects.defect import HEALTHY, Defect, Loop, defects
from diagtree.physics.defects.misfit import Profile, chance_of_more, profiles
from diagtree.physics.defects.spot import SPOTS, Spot
from diagtree.physics.meter import COVERAGE
from diagtree.records import dataclass

TOLD_APART = COVERAGE**2
"""Two explanations whose misfits differ by no more cannot be told apart by these readings. [-]"""
FITS_FROM = 0.01
"""An explanation fits where a true one would misfit more at least so often. [-]"""
AVERAGE_ERROR = 0.3 / sqrt(3.0)
"""Standard uncertainty the average of a 1 kHz wave adds: meters settle differently by up to 0.3 V (ours). [V]"""
FLOOR = 0.01
"""Least standard uncertainty of a level: the circuits are known no better, and a reading is no better read. [V]"""
FLOOR_SHARE = 0.001
"""The same of a plug's resistance, as R / (R + 330 ohm). [-]"""

NAMED, NONE, CANNOT_TELL = "named", "none", "cannot tell"

WORTH_READING = 0.2
"""A further reading is proposed where the explanations foretell numbers at least so far apart. [V, or share]"""


@dataclass(frozen=True, slots=True)
class Explanation:
    """One single defect as the explanation of the readings.

    value, low, high : its best value and 95 per cent interval; None for a defect without a value, the interval also
    where the explanation does not fit. [ohm]
    misfit : chi-square of readings and parts. chance : that a true explanation misfits more.
    foretold : what it says would be read at each spot, with the parts as they fit best. [V]
    """

    rank: int
    defect: str
    name: str
    remedy: str
    value: float | None
    low: float | None
    high: float | None
    misfit: float
    chance: float
    foretold: Mapping[Spot, float]

    @property
    def fits(self) -> bool:
        """Whether the misfit is one that chance explains."""
        return self.chance >= FITS_FROM


@dataclass(frozen=True, slots=True)
class Finding:
    """All explanations, best first, and the verdict: named, none (nothing is shown to be wrong) or cannot tell.

    best : the explanation named; None where it cannot be told. rivals : those that cannot be told apart, best first.
    reason : why, in words. next : the reading that would tell the rivals apart best; None where none would.
    """

    circuit: str
    explanations: tuple[Explanation, ...]
    verdict: str
    best: Explanation | None
    rivals: tuple[Explanation, ...]
    reason: str
    next: Spot | None = None


def find(loop: Loop, readings: Mapping[Spot, tuple[float, float]]) -> Finding:
    """Return which single defect of the healthy `loop` explains the readings.

    readings : spot, all of one circuit, to the number as `loop.read` gives it and its standard uncertainty.
    Raises WrongUse without a reading or with two circuits, OutOfRange where a number or uncertainty is none.
    """
    circuits = {spot.circuit for spot in readings}
    if len(circuits) != 1:
        raise WrongUse("give at least one reading, and all of one circuit: the pilot or the proximity contact")
    widened = {spot: (number, _deviation(spot, number, deviation)) for spot, (number, deviation) in readings.items()}
    circuit = circuits.pop()
    found = profiles(defects(circuit), loop, widened)
    ranked = sorted(found, key=lambda one: (round(one.best.misfit, 2), one.defect.span is not None, one.defect.id))
    kinds = {one.defect.kind: one for one in reversed(ranked)}  # of two variants the better one stays
    kept = [one for one in ranked if kinds[one.defect.kind] is one]
    explanations = tuple(_explanation(place, one) for place, one in enumerate(kept, start=1))
    return _judged(circuit, explanations, {kind: one.defect for kind, one in kinds.items()}, loop)


def _deviation(spot: Spot, number: float, deviation: float) -> float:
    if not (isfinite(number) and isfinite(deviation) and deviation >= 0.0):
        raise OutOfRange(f"{spot.name} = {number!r} +/- {deviation!r} is no reading: type a number that a meter shows")
    least = FLOOR if spot.unit == "V" else FLOOR_SHARE
    average = AVERAGE_ERROR if spot.duty is not None else 0.0
    return sqrt(max(deviation, least) ** 2 + average**2)


def _explanation(rank: int, one: Profile) -> Explanation:
    best = one.best
    freedom = max(len(one.spots) - (best.value is not None), 1)
    chance = chance_of_more(best.misfit, freedom)
    interval = one.interval() if chance >= FITS_FROM else None
    low, high = interval or (None, None)
    return Explanation(
        rank,
        one.defect.kind,
        one.defect.name,
        one.defect.remedy,
        best.value,
        low,
        high,
        best.misfit,
        chance,
        dict(zip(one.spots, best.foretold, strict=True)),
    )


def _judged(
    circuit: str, explanations: tuple[Explanation, ...], known: Mapping[str, Defect[Loop]], loop: Loop
) -> Finding:
    first = explanations[0]
    near = [one for one in explanations if one.misfit <= first.misfit + TOLD_APART]
    healthy = next(one for one in explanations if one.defect == HEALTHY)
    if healthy in near and healthy.fits:
        # Without its value such a defect is the healthy circuit: it says the same in more words.
        near = [healthy, *(one for one in near if one is not healthy and not _may_be_nothing(known[one.defect], loop))]
        near.sort(key=lambda one: one.rank)
    if not any(one.fits for one in near):
        return Finding(circuit, explanations, CANNOT_TELL, None, (), "no single defect known here fits these readings")
    if len(near) > 1:
        names = ", or ".join(one.name for one in near)
        reason = f"these readings do not tell apart: {names}"
        further = _next_reading(near, known, loop)
        return Finding(circuit, explanations, CANNOT_TELL, None, tuple(near), reason, further)
    if near[0] is healthy:
        return Finding(circuit, explanations, NONE, healthy, (), "healthy parts within their tolerances explain them")
    after = next((one for one in explanations if one is not near[0]), None)
    gap = "" if after is None else f"; the next best, {after.name}, misfits by {after.misfit - near[0].misfit:.1f} more"
    return Finding(circuit, explanations, NAMED, near[0], (), f"it fits{gap}")


def _next_reading(rivals: list[Explanation], known: Mapping[str, Defect[Loop]], loop: Loop) -> Spot | None:
    """Return the reading at which the rivals, each with its best value, foretell the most different numbers."""
    done = rivals[0].foretold
    best, widest = None, 0.0
    for spot in SPOTS[next(iter(done)).circuit]:
        if spot in done:
            continue
        levels = [known[one.defect].change(loop, one.value or 0.0).read(spot) for one in rivals]
        # A plug's share of its divider, 0 to 1, counts like volts: both are about as easy to tell apart.
        if max(levels) - min(levels) > max(widest, WORTH_READING):
            best, widest = spot, max(levels) - min(levels)
    return best


def _may_be_nothing(defect: Defect[Loop], loop: Loop) -> bool:
    return defect.span is not None and defect.span(loop).nothing is not None
