"""Platinum resistance thermometers (IEC 60751): resistance and temperature, both ways, and their tolerance.

Source: IEC 60751; its constants as printed by two independent public tables (gaimc.com Pt100/Pt1000 page,
Beckhoff analogue manual).
"""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics import facts as profile
from diagtree.physics.quantity import Facts
from diagtree.physics.ranges import plain

A, B, C = 3.9083e-3, -5.775e-7, -4.183e-12
"""Coefficients of IEC 60751. [1/K, 1/K^2, 1/K^4]"""

LOWEST, HIGHEST = -200.0, 850.0
"""Range of the standard's formula. [degC]"""

TOLERANCES = {"AA": (0.10, 0.0017), "A": (0.15, 0.002), "B": (0.30, 0.005), "C": (0.60, 0.010)}
"""Tolerance classes: fixed part [K] and part per degree of |t| [-]. AA and C are from memory of IEC 60751."""


def ratio(temperature: float) -> float:
    """Return R/R0 at `temperature` [degC]. [-]"""
    squared = temperature * temperature
    value = 1.0 + A * temperature + B * squared
    return value if temperature >= 0.0 else value + C * (temperature - 100.0) * squared * temperature


def slope(temperature: float) -> float:
    """Return d(R/R0)/dt at `temperature` [degC]. [1/K]"""
    value = A + 2.0 * B * temperature
    if temperature >= 0.0:
        return value
    return value + C * (4.0 * temperature**3 - 300.0 * temperature**2)


def temperature_of_ratio(wanted: float) -> float:
    """Return the temperature at which R/R0 is `wanted`. [degC] The inverse of `ratio`.

    Raises OutOfRange outside -200 to 850 degC.
    """
    if not ratio(LOWEST) * (1 - 1e-12) <= wanted <= ratio(HIGHEST) * (1 + 1e-12):
        raise OutOfRange(
            f"a platinum sensor at {plain(wanted)} times its 0 degC resistance is outside -200 to 850 degC: it must be "
            f"{ratio(LOWEST):.4f} to {ratio(HIGHEST):.4f} times; open, shorted, or another kind of sensor?"
        )
    found = (-A + math.sqrt(A * A - 4.0 * B * (1.0 - wanted))) / (2.0 * B)
    if found >= 0.0:
        return found
    for _ in range(50):
        step = (ratio(found) - wanted) / slope(found)
        found -= step
        if abs(step) < 1e-13 * max(1.0, abs(found)):
            break
    return found


def nominal(sensor: Facts) -> float:
    """Return the sensor's resistance at 0 degC from the vehicle profile. [ohm] Raises OutOfRange without one."""
    profile.must_be(sensor, "platinum")
    return profile.number(sensor, "r0", low=1.0, high=100000.0, unit="ohm")


def tolerance(temperature: float, tolerance_class: str) -> float:
    """Return the tolerance of a class AA, A, B or C at `temperature` [degC]. [K]"""
    fixed, per_degree = TOLERANCES[tolerance_class]
    return fixed + per_degree * abs(temperature)
