"""Absence of voltage: judged by the absolute value, in plain volts, with the whole of the meter's uncertainty.

Limits: 60 V DC and 30 V AC rms, above which a voltage is hazardous (class B; UN Regulation No. 100, ISO 6469-3), or
the profile's, where that is lower. The tester is proven on a known source before and after (EN 50110-1, 6.2.3).
"""

from __future__ import annotations

import re

from diagtree.errors import AnswerError, DiagtreeError
from diagtree.knowledge.limits import LimitError, evaluate
from diagtree.knowledge.words import ProcedureStep
from diagtree.physics.meter import accuracy_for, reading_uncertainty, safely_below
from diagtree.physics.quantity import Value
from diagtree.physics.reading import Reading, parse_reading
from diagtree.physics.units import unit
from diagtree.records import dataclass
from diagtree.walk.context import Walk
from diagtree.walk.judging import TypedFacts, with_supplied

DC_LIMIT = 60.0
AC_LIMIT = 30.0
_ITS_UNIT = re.compile(r"(?<=[0-9.,lL])\s*v(?:olts?)?\s*$", re.IGNORECASE)
_AC_PAIR = re.compile(r"\b(?:AC|L[123]?|N|phase)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Pair:
    """One pair of points and what its absolute voltage must be below. [V]"""

    points: str
    limit: float


@dataclass(frozen=True, slots=True)
class AbsenceVerdict:
    """One pair's reading and whether it is below the limit by the whole uncertainty."""

    pair: Pair
    reading: Reading
    expanded: float
    proven: bool


def pairs(walk: Walk, step: ProcedureStep, supplied: TypedFacts) -> tuple[Pair, ...]:
    """Return the pairs to measure, each with its limit: the standard's, or the profile's where that is lower.

    A limit of the profile that is unknown or cannot be computed leaves the standard's.
    """
    own = DC_LIMIT
    if step.below is not None:
        values: dict[str, Value] = {"vehicle": with_supplied(walk.facts, supplied)}
        try:
            own = evaluate(step.below, values)
        except LimitError:
            own = DC_LIMIT
    return tuple(
        Pair(points, max(0.0, min(own, AC_LIMIT if _AC_PAIR.search(points) else DC_LIMIT))) for points in step.between
    )


def measure(walk: Walk, wanted: tuple[Pair, ...], typed: tuple[str, ...]) -> tuple[AbsenceVerdict, ...]:
    """Return each pair's verdict. Raises AnswerError for a reading that is not plain volts, naming the pair."""
    if len(typed) != len(wanted):
        raise AnswerError(f"the absence of voltage needs {len(wanted)} readings ({_names(wanted)}); got {len(typed)}")
    found = []
    for pair, text in zip(wanted, typed, strict=True):
        try:
            reading = parse_reading(text, "volt", plain=True)
        except DiagtreeError as error:
            raise AnswerError(f"{pair.points}: {error}") from error
        expanded = 2 * worst_uncertainty(walk, reading)
        proven = not reading.over_range and safely_below(abs(reading.value), pair.limit, expanded)
        found.append(AbsenceVerdict(pair, reading, expanded, proven))
    return tuple(found)


def without_unit(text: str) -> str:
    """Return a reading in plain volts as typed, without the unit that may stand behind it: `-0.6 V` is `-0.6`."""
    return _ITS_UNIT.sub("", text.strip())


def worst_uncertainty(walk: Walk, reading: Reading) -> float:
    """Return the largest standard uncertainty of the house's voltmeters: which one was used is not told. [V]"""
    volts = unit("volt")
    fit = (accuracy_for(units, volts) for units in walk.meters.values())
    return max((reading_uncertainty(reading, accuracy) for accuracy in fit if accuracy is not None), default=0.0)


def _names(wanted: tuple[Pair, ...]) -> str:
    return "; ".join(pair.points for pair in wanted)
