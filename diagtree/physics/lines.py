"""Straight lines between points, level beyond the ends or refused there."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from diagtree.errors import OutOfRange
from diagtree.physics.ranges import plain


def on_line(at: float, begin: tuple[float, float], end: tuple[float, float]) -> float:
    """Return the value at `at` on the line between two points, level beyond them.

    Raises OutOfRange unless the end lies above the begin.
    """
    (low, first), (high, last) = begin, end
    if not low < high:
        raise OutOfRange(
            f"`end` = {plain(high)} must be above `start` = {plain(low)}: type the hotter temperature last"
        )
    share = min(max((at - low) / (high - low), 0.0), 1.0)
    return first + share * (last - first)


def interpolated(at: float, rows: Sequence[tuple[float, float]]) -> float:
    """Return the value at `at` between the rows of an ascending table; level beyond its ends."""
    for begin, end in pairwise(rows):
        if at <= end[0]:
            return on_line(at, begin, end)
    return rows[-1][1]
