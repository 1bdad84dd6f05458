"""What a meter shows: the true value with an error inside its accuracy, on a display of four digits.

The error is rectangular (JCGM 100:2008, 4.3.7): evenly anywhere between the limits that the meter's maker specifies.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor, isinf, log10

from diagtree.physics.meter import Accuracy, specified_error
from diagtree.physics.units import Unit

DIGITS = 4
"""Digits of the display, as of a usual hand-held meter."""
TENTH = -1
"""A thermometer shows tenths of a degree at most; as a power of ten."""
_PREFIX = {3: "k", 6: "M", 9: "G", 12: "T"}


def shown(value: float, measured_in: Unit, accuracy: Accuracy | None, die: float) -> str:
    """Return the reading as it is typed: `12.43 k`, `231.4`, `OL` above the meter's range.

    value : true value in `measured_in`. accuracy : None: the reading is exact up to the display's last digit.
    die : where in its limits the error falls, 0 to 1.

    The number shown lies within the meter's specified error of the true value, last digit rounded, wherever that error
    is at least half of the last digit.
    """
    if isinf(value):
        return "OL"
    power = _last_digit(value, measured_in)
    step = 10.0**power
    spread = 0.0
    if accuracy is not None:
        # Per cent of what is shown, not of the true value, and the display rounds by half a digit besides.
        allowed = specified_error(accuracy, value, step) / (1.0 + accuracy.percent / 100.0)
        spread = max(0.0, allowed - step / 2.0)
    counts = round((value + (2.0 * die - 1.0) * spread) / step)
    return _typed(counts, power, measured_in)


def _last_digit(value: float, measured_in: Unit) -> int:
    """Return the power of ten of the display's last digit."""
    size = floor(log10(abs(value))) if value else 0
    power = max(size - DIGITS + 1, -9)
    return max(power, TENTH) if measured_in.offset else power


def _typed(counts: int, power: int, measured_in: Unit) -> str:
    """Return counts of the last digit as text that keeps that digit."""
    if power <= 0:
        return f"{float(Fraction(counts) * Fraction(10) ** power):.{-power}f}"
    prefix = 3 * ((power + DIGITS - 1) // 3)
    if measured_in.prefixable and prefix in _PREFIX:
        return f"{float(Fraction(counts) * Fraction(10) ** (power - prefix)):.{prefix - power}f} {_PREFIX[prefix]}"
    return f"{counts}e{power}"
