"""Dice that fall the same on every machine: a number from a seed and what it is thrown for.

SHA-256 of the words, so that nothing rests on a library's generator, on the order of the throws or on the platform.
"""

from __future__ import annotations

from hashlib import sha256
from math import exp, log

_BITS = 53  # a double's


def chance(seed: int | str, *thrown_for: object) -> float:
    """Return a number from 0 up to, not including, 1: even over seeds, the same for the same words. [-]"""
    data = "\x1f".join(str(word) for word in (seed, *thrown_for)).encode()
    return (int.from_bytes(sha256(data).digest()[:8], "big") >> (64 - _BITS)) / (1 << _BITS)


def between(die: float, low: float, high: float) -> float:
    """Return the value at the share `die` from `low` to `high` on a logarithmic scale, both above 0."""
    return exp(log(low) + die * (log(high) - log(low)))
