"""Heating of a contact: first-order model, and the forecast of where it ends.

T(t) = Ta + P Rth (1 - exp(-t/tau)). Source: first-order thermal model (common physics); the forecast follows from
three equally spaced readings of an exponential approach, its uncertainty by first-order propagation (JCGM 100).
"""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics.ranges import plain
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Forecast:
    """Where a temperature is heading.

    end, time_constant : final temperature [degC] and time constant [s].
    end_uncertainty, time_constant_uncertainty : expanded like the readings' own. [K, s]
    """

    end: float
    end_uncertainty: float
    time_constant: float
    time_constant_uncertainty: float


def loss(current: float, resistance: float) -> float:
    """Return the power that a contact turns into heat. [W] current [A], resistance [ohm]."""
    return current * current * resistance


def temperature(ambient: float, rise: float, time: float, time_constant: float) -> float:
    """Return the temperature after `time` [s] on the way to `ambient` + `rise`. [degC]"""
    return ambient - rise * math.expm1(-time / time_constant)


def time_to(ambient: float, rise: float, limit: float, time_constant: float) -> float:
    """Return the time until `limit` [degC] is reached; infinity where it never is. [s]"""
    if limit <= ambient:
        return 0.0
    share = (limit - ambient) / rise if rise > 0.0 else math.inf
    return -time_constant * math.log1p(-share) if share < 1.0 else math.inf


def forecast(first: float, second: float, third: float, interval: float, uncertainty: float = 0.0) -> Forecast:
    """Return where three equally spaced readings are heading.

    first, second, third : temperatures [degC], `interval` [s] apart, under a steady current.
    uncertainty : expanded uncertainty of each reading. [K]

    Raises OutOfRange where the readings do not level off, or not by more than their uncertainty: read farther apart.
    """
    one, two = second - first, third - second
    bend = one - two
    if one == 0.0 or two == 0.0 or (one > 0.0) != (two > 0.0) or abs(two) >= abs(one):
        raise OutOfRange(
            f"{plain(first)}, {plain(second)}, {plain(third)} degC do not level off: the steps must have one direction "
            "and become smaller. Take readings farther apart under a steady current"
        )
    # The bend is T2 - T1 - (T3 - T2): its own uncertainty is sqrt(1 + 4 + 1) times that of a reading.
    doubt = math.sqrt(6.0) * uncertainty
    if abs(bend) <= 2.0 * doubt:
        raise OutOfRange(
            f"the readings bend by {abs(bend):.2g} K, which is no more than twice its uncertainty of {doubt:.2g} K: "
            "no forecast. Take readings farther apart or with a finer instrument"
        )
    end = third + two * two / bend
    ratio = two / one
    time_constant = -interval / math.log(ratio)
    end_slopes = ((end - third) / bend, -2.0 * (end - second) / bend, (end - first) / bend)
    log_slopes = (1.0 / one, -1.0 / one - 1.0 / two, 1.0 / two)
    return Forecast(
        end=end,
        end_uncertainty=uncertainty * math.hypot(*end_slopes),
        time_constant=time_constant,
        time_constant_uncertainty=uncertainty * math.hypot(*log_slopes) * time_constant**2 / interval,
    )
