"""Whether any readings at all do something: found by example, or excluded by interval arithmetic over smaller boxes.

A box holds a range for each reading. Interval arithmetic says of a whole box that nothing in it does it (`excludes`;
never wrongly, but wide boxes often stay open); a single point of it may do it (`does`). Open boxes are cut in two.
Source: branch and bound with interval arithmetic (R. E. Moore, Interval Analysis, 1966).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Mapping
from math import inf, isinf, log10, sqrt

from diagtree.check.physical_range import Physical
from diagtree.knowledge.limits import Interval
from diagtree.records import dataclass

_MOST_BOXES = 500

Box = Mapping[str, Interval]
Point = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Searched:
    """What a search found: readings that do it, or whether it is proven that none do. Neither: nothing is known."""

    readings: Point | None
    excluded: bool


def search(
    ranges: Mapping[str, Physical], excludes: Callable[[Box], bool], does: Callable[[Point], bool]
) -> Searched:
    """Return whether some readings within `ranges` do it. Looks at some hundreds of boxes at most."""
    waiting: deque[Box] = deque([{name: (one.low, one.high) for name, one in ranges.items()}])
    for _ in range(_MOST_BOXES):
        if not waiting:
            return Searched(None, excluded=True)
        box = waiting.popleft()
        if excludes(box):
            continue
        point = {name: _middle(low, high, ranges[name].temperature) for name, (low, high) in box.items()}
        if does(point):
            return Searched(point, excluded=False)
        widest = max(box, key=lambda name: _width(*box[name], ranges[name].temperature))
        (low, high), middle = box[widest], point[widest]
        if not low < middle < high:
            return Searched(None, excluded=False)  # as fine as numbers get
        waiting.append({**box, widest: (low, middle)})
        waiting.append({**box, widest: (middle, high)})
    return Searched(None, excluded=not waiting)


def _middle(low: float, high: float, temperature: bool) -> float:
    """Return where a range is cut: at zero, between its powers of ten, or in its middle."""
    if temperature:
        return low + (high - low) / 2
    if low < 0 < high:
        return 0.0
    if isinf(high):
        return max(low, 1.0) * 1000.0
    if isinf(low):
        return min(high, -1.0) * 1000.0
    smaller, larger = sorted((abs(low), abs(high)))
    if smaller == 0:
        return (low + high) / 1000.0 if larger > 1e-9 else (low + high) / 2
    if larger / smaller > 4:
        return sqrt(smaller) * sqrt(larger) * (1.0 if high > 0 else -1.0)
    return low + (high - low) / 2


def _width(low: float, high: float, temperature: bool) -> float:
    """Return how wide a range is, in decades or in steps of 25 K, so that unlike readings can be compared."""
    if temperature:
        return (high - low) / 25.0
    return _decades(high) - _decades(low)


def _decades(value: float) -> float:
    if isinf(value):
        return 25.0 if value == inf else -25.0
    return log10(1 + abs(value) * 1e9) * (1 if value >= 0 else -1)
