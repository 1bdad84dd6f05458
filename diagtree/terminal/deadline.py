"""Time for a search: the core asks whether it is out of time, the shell looks at the clock."""

from __future__ import annotations

from collections.abc import Callable
from time import monotonic


def within(seconds: float) -> Callable[[], bool]:
    """Return a function that is false until `seconds` from now have passed, then true. [s]"""
    end = monotonic() + seconds
    return lambda: monotonic() >= end
