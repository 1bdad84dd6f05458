"""Numbers tried along the range of one reading: where an outcome begins and ends, and a number well inside it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise
from math import isinf, sqrt
from typing import TypeAlias

from diagtree.check.physical_range import Physical

Outcomes: TypeAlias = Callable[[float], int | None]
"""The number of the outcome at a value of the reading; None where it cannot be judged."""

Tried: TypeAlias = Sequence[tuple[float, int | None]]
"""Values in ascending order, each with its outcome."""

_EVENLY, _PER_DECADE = 96, 4
_SMALLEST, _LARGEST = -9, 12  # powers of ten
_HALVINGS = 200
_CALM = 40.0  # an open band of temperatures is taken to be this wide [K]
_OPEN = 4.0  # an open band of other numbers is taken to end at this multiple of its limit


@lru_cache(maxsize=64)
def tries_along(physical: Physical) -> tuple[float, ...]:
    """Return values over a range: evenly, by decades on either side of zero, and the usual ones."""
    low, high = physical.finite
    found = {low + (high - low) * step / _EVENLY for step in range(_EVENLY + 1)} | set(physical.usual)
    for number in range(_SMALLEST * _PER_DECADE, _LARGEST * _PER_DECADE + 1):
        size = 10.0 ** (number / _PER_DECADE)
        found |= {size, -size}
    return tuple(sorted(value for value in found if low <= value <= high))


def inside(at: Outcomes, tried: Tried, wanted: int) -> float | None:
    """Return a value with the wanted outcome: one that was tried, or one halved down to between two that were."""
    hit = next((value for value, outcome in tried if outcome == wanted), None)
    if hit is not None:
        return hit
    for (low, before), (high, after) in pairwise(tried):
        if before is not None and after is not None and min(before, after) < wanted < max(before, after):
            found = _halved(at, low, high, wanted, rising=before < after)
            if found is not None:
                return found
    return None


def _halved(at: Outcomes, low: float, high: float, wanted: int, *, rising: bool) -> float | None:
    for _ in range(_HALVINGS):
        middle = low + (high - low) / 2
        outcome = at(middle)
        if outcome == wanted or outcome is None or not low < middle < high:
            return middle if outcome == wanted else None
        if (outcome < wanted) == rising:
            low = middle
        else:
            high = middle
    return None


def band(at: Outcomes, tried: Tried, hit: float, wanted: int) -> tuple[float, float]:
    """Return the ends of the band of values around `hit` that give the wanted outcome."""
    below = next((value for value, outcome in reversed(tried) if value < hit and outcome != wanted), None)
    above = next((value for value, outcome in tried if value > hit and outcome != wanted), None)
    low = tried[0][0] if below is None else _edge(at, hit, below, wanted)
    high = tried[-1][0] if above is None else _edge(at, hit, above, wanted)
    return low, high


def _edge(at: Outcomes, within: float, without: float, wanted: int) -> float:
    for _ in range(_HALVINGS):
        middle = within + (without - within) / 2
        if middle in (within, without):
            break
        if at(middle) == wanted:
            within = middle
        else:
            without = middle
        if abs(within - without) <= 1e-9 * abs(within):
            break
    return within


def middle_of(physical: Physical, low: float, high: float) -> float:
    """Return a number well inside a band: a usual one where that is no near miss, else the middle.

    A band that ends only with the physical range is cut short first, so that no absurd number comes out.
    """
    for value in physical.usual:
        spare = 3.0 if physical.temperature else abs(value) / 20
        if low + spare <= value <= high - spare:
            return value
    bottom, top = physical.finite
    if high >= top and low > bottom:
        high = min(high, low + _CALM if physical.temperature else max(low * _OPEN, low / _OPEN, low + 1e-9))
    elif low <= bottom and high < top:
        low = max(low, high - _CALM if physical.temperature else 0.0 if high > 0 else high * _OPEN)
    if low > 0 and high / low > 10:
        return sqrt(low) * sqrt(high)
    middle = low + (high - low) / 2
    return 0.0 if abs(middle) < (high - low) / 1000 else middle


def shortened(value: float) -> Iterator[float]:
    """Yield a value with few digits first, as a person would type it, then with more."""
    for digits in (2, 3, 4, 6, 9, 12):
        yield float(f"{value:.{digits}g}")
    yield value


def typed(value: float) -> str:
    """Return a number as it is typed: without exponent or idle zeros; `OL` above the range."""
    if isinf(value):
        return "OL"
    text = f"{Decimal(repr(value)):f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("", "-0") else text
