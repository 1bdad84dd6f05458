"""Acts of a whole round of the quiz, and how it is run."""

from __future__ import annotations

from collections.abc import Callable

Ran = tuple[int, str, str]
Run = Callable[..., Ran]
ONLY = "Practice on a simulated car, nothing more. Work on high voltage needs a qualification"

# In the small house: find the open sensor, and put it right.
WORK = """
other-point
make-safe
open bench
open connector
test sensor
correct sensor-open 70
"""
