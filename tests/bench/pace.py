"""Seconds of the machine that the targets were set on: a floor of plain work, timed in the same run, tells how long.

A target such as "5 seconds" means nothing on a machine that runs at half the pace, or that shares its core. So all
times here are ratios to the floor: a fixed mixture of what the planner does (tuples in dictionaries, floats, small
arrays), timed right before and right after what is measured. `QUIET` is what the floor took on that machine, idle.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TypeVar

import numpy as np

QUIET = 0.0058
"""Processor time of the floor on the machine of the targets. [s]"""

Result = TypeVar("Result")


def floor() -> float:
    """Return the processor time of the floor, the least of three runs. [s]"""
    return min(_once() for _ in range(3))


def _once() -> float:
    begin = time.process_time()
    seen: dict[tuple[int, int], float] = {}
    for number in range(12_000):
        key = number % 97, number % 89
        seen[key] = seen.get(key, 0.0) + number * 0.5
    weights = np.linspace(0.1, 1, 50)
    for _ in range(600):
        weights = weights * 0.5 + weights[::-1] * 0.5
        weights = weights / weights.sum()
    return time.process_time() - begin


_LATEST = [-1.0, 1.0]
"""When the pace was last found (processor time), and what it was."""


def slowness(*, fresh: bool = False) -> float:
    """Return how many times slower than the machine of the targets this one is now, at least 1.

    What was found within half a second of processor time is taken again, but where a `fresh` one is asked for.
    """
    if fresh or _LATEST[0] < 0 or time.process_time() - _LATEST[0] > 0.5:
        pace = max(1.0, floor() / QUIET)
        _LATEST[:] = [time.process_time(), pace]
    return _LATEST[1]


def timed(work: Callable[[], Result]) -> tuple[Result, float]:
    """Return what `work` returns, and its time in seconds of the machine of the targets."""
    before, begin = slowness(fresh=True), time.process_time()
    result = work()
    taken = time.process_time() - begin
    return result, taken / max(before, slowness(fresh=True))


def within(seconds: float) -> Callable[[], bool]:
    """Return whether so many seconds of the machine of the targets are over, counted from now."""
    end = seconds * slowness()
    begin = time.process_time()
    return lambda: time.process_time() - begin > end
