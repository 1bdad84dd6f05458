"""Thermistors with a negative temperature coefficient (NTC): resistance and temperature, both ways.

Three descriptions are understood, whichever the vehicle profile gives: `r25` and `beta`; Steinhart-Hart
coefficients `a`, `b`, `c`; a `table` of temperatures and resistances. Two rows of a table fix a beta curve,
three a Steinhart-Hart curve, more are joined by beta curves, so that every printed row is met.
Source: J. S. Steinhart and S. R. Hart, "Calibration curves for thermistors", Deep-Sea Research 15 (1968);
the beta form is the same without its cubic term.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from typing import TypeAlias

from diagtree.errors import OutOfRange
from diagtree.physics import facts as profile
from diagtree.physics.quantity import Facts
from diagtree.physics.ranges import ABSOLUTE_ZERO, plain

Row: TypeAlias = tuple[float, float]
"""One row of a table: temperature [degC], resistance [ohm]."""

Coefficients: TypeAlias = tuple[float, float, float]
"""Steinhart-Hart a [1/K], b [1/K], c [1/K], the resistance being in ohm."""

KELVIN = -ABSOLUTE_ZERO
REFERENCE = 25.0 + KELVIN
"""Temperature at which `r25` holds. [K]"""

LOWEST, HIGHEST = -100.0, 400.0
"""Temperatures that these curves are asked for. [degC]"""


def resistance(temperature: float, sensor: Facts) -> float:
    """Return the resistance of an NTC at `temperature` [degC]. [ohm]

    sensor : `{r25, beta}` [ohm, K], `{a, b, c}` [1/K] or `{table: {degC: ohm, ...}}`.
    Raises OutOfRange where the profile's facts are missing, unknown or no NTC, or a table does not reach so far.
    """
    profile.must_be(sensor, "ntc")
    kelvin = temperature + KELVIN
    rows = profile.table(sensor, "table")
    if rows is not None:
        return _resistance_by_table(kelvin, rows)
    if "a" in sensor:
        return resistance_by_steinhart_hart(kelvin, _coefficients(sensor))
    r25, beta = _beta_facts(sensor)
    return r25 * math.exp(beta * (1.0 / kelvin - 1.0 / REFERENCE))


def temperature(ohms: float, sensor: Facts) -> float:
    """Return the temperature at which an NTC has the resistance `ohms`. [degC]

    The inverse of `resistance`, with the same facts and errors.
    """
    profile.must_be(sensor, "ntc")
    rows = profile.table(sensor, "table")
    if rows is not None:
        kelvin = _temperature_by_table(ohms, rows)
    elif "a" in sensor:
        kelvin = temperature_by_steinhart_hart(ohms, _coefficients(sensor))
    else:
        r25, beta = _beta_facts(sensor)
        kelvin = _physical(1.0 / REFERENCE + math.log(ohms / r25) / beta, ohms)
    return kelvin - KELVIN


def beta_between(cold: Row, hot: Row) -> float:
    """Return the beta of the curve through two rows. [K]

    Raises OutOfRange unless the resistance falls from the colder row to the hotter one.
    """
    (cold_at, cold_ohms), (hot_at, hot_ohms) = cold, hot
    if not (cold_at < hot_at and cold_ohms > hot_ohms > 0):
        raise OutOfRange(
            f"an NTC falls as it gets warmer: {plain(cold_ohms)} ohm at {plain(cold_at)} degC and "
            f"{plain(hot_ohms)} ohm at {plain(hot_at)} degC do not; give the colder row first"
        )
    return math.log(cold_ohms / hot_ohms) / (1.0 / (cold_at + KELVIN) - 1.0 / (hot_at + KELVIN))


def steinhart_hart(rows: Sequence[Row]) -> Coefficients:
    """Return the coefficients a, b, c of the curve through three rows, or nearest to more of them. [1/K]

    More than three rows are fitted by least squares in 1/T, which is what the equation is linear in.
    Raises OutOfRange for fewer than three different rows or a table that does not fall.
    """
    ordered = sorted(rows)
    if len(ordered) < 3:
        raise OutOfRange(f"Steinhart-Hart needs three rows of temperature and resistance; {len(ordered)} given")
    for cold, hot in pairwise(ordered):
        beta_between(cold, hot)
    logs = [math.log(ohms) for _, ohms in ordered]
    inverse = [1.0 / (at + KELVIN) for at, _ in ordered]
    # Centred logarithms keep the three columns apart: raw 1, L, L^3 are nearly parallel.
    middle = sum(logs) / len(logs)
    columns = [[1.0] * len(logs), [log - middle for log in logs], [log**3 - middle**3 for log in logs]]
    matrix = [[math.fsum(x * y for x, y in zip(one, two, strict=True)) for two in columns] for one in columns]
    wanted = [math.fsum(x * y for x, y in zip(one, inverse, strict=True)) for one in columns]
    first, second, third = _solve(matrix, wanted)
    return first - second * middle - third * middle**3, second, third


def temperature_by_steinhart_hart(ohms: float, coefficients: Coefficients) -> float:
    """Return the temperature at which the curve has the resistance `ohms`. [K]"""
    a, b, c = coefficients
    log = math.log(ohms)
    return _physical(a + b * log + c * log**3, ohms)


def resistance_by_steinhart_hart(kelvin: float, coefficients: Coefficients) -> float:
    """Return the resistance of the curve at `kelvin` [K]. [ohm]

    Newton's method on the cubic in ln R; the curve without its cubic term is the start. For c >= 0 that start
    lies above the root of an increasing convex function, so every step comes nearer.
    """
    a, b, c = coefficients
    wanted = 1.0 / kelvin
    log = (wanted - a) / b
    for _ in range(60):
        slope = b + 3.0 * c * log * log
        if slope <= 0.0:
            break
        step = (a + b * log + c * log**3 - wanted) / slope
        log -= step
        if abs(step) < 1e-14 * max(1.0, abs(log)):
            return math.exp(log)
    raise OutOfRange(f"Steinhart-Hart coefficients {coefficients} give no resistance at {plain(kelvin - KELVIN)} degC")


def _beta_facts(sensor: Facts) -> Row:
    """Return r25 [ohm] and beta [K]."""
    return (
        profile.number(sensor, "r25", low=1.0, high=1e8, unit="ohm"),
        profile.number(sensor, "beta", low=500.0, high=10000.0, unit="K"),
    )


def _coefficients(sensor: Facts) -> Coefficients:
    """Return the Steinhart-Hart coefficients that a profile gives. [1/K]"""
    return (
        profile.number(sensor, "a", low=-0.1, high=0.1, unit="1/K"),
        profile.number(sensor, "b", low=1e-6, high=0.1, unit="1/K"),
        profile.number(sensor, "c", low=-1e-4, high=1e-4, unit="1/K"),
    )


def _resistance_by_table(kelvin: float, rows: tuple[Row, ...]) -> float:
    """Return the resistance between the rows of a table. [ohm]"""
    if len(rows) == 3:
        return resistance_by_steinhart_hart(kelvin, _fitted(rows))
    place = bisect_left(rows, (kelvin - KELVIN, -math.inf))
    if len(rows) > 2 and not rows[0][0] - 1e-9 <= kelvin - KELVIN <= rows[-1][0] + 1e-9:
        raise OutOfRange(
            f"temperature {plain(kelvin - KELVIN)} degC is outside the sensor's table: "
            f"type {plain(rows[0][0])} to {plain(rows[-1][0])} degC"
        )
    place = min(max(place, 1), len(rows) - 1)
    cold, hot = rows[place - 1], rows[place]
    return hot[1] * math.exp(beta_between(cold, hot) * (1.0 / kelvin - 1.0 / (hot[0] + KELVIN)))


def _temperature_by_table(ohms: float, rows: tuple[Row, ...]) -> float:
    """Return the temperature between the rows of a table. [K]"""
    if len(rows) == 3:
        return temperature_by_steinhart_hart(ohms, _fitted(rows))
    place = bisect_left([-row[1] for row in rows], -ohms)
    if len(rows) > 2 and not rows[-1][1] * (1 - 1e-12) <= ohms <= rows[0][1] * (1 + 1e-12):
        raise OutOfRange(
            f"resistance {plain(ohms)} ohm is outside the sensor's table: "
            f"{plain(rows[-1][1])} to {plain(rows[0][1])} ohm"
        )
    place = min(max(place, 1), len(rows) - 1)
    cold, hot = rows[place - 1], rows[place]
    return _physical(1.0 / (hot[0] + KELVIN) + math.log(ohms / hot[1]) / beta_between(cold, hot), ohms)


@lru_cache(maxsize=64)
def _fitted(rows: tuple[Row, ...]) -> Coefficients:
    """Return the coefficients of a sensor's three rows; a walk asks for the same ones again and again."""
    return steinhart_hart(rows)


def _physical(inverse_kelvin: float, ohms: float) -> float:
    """Return 1/x [K]. Raises OutOfRange where a curve run far beyond its ends leaves physics."""
    if not 1e-4 < inverse_kelvin < 1.0:
        raise OutOfRange(f"resistance {plain(ohms)} ohm is far outside this sensor's curve: is the sensor open?")
    return 1.0 / inverse_kelvin


def _solve(matrix: list[list[float]], wanted: list[float]) -> tuple[float, float, float]:
    """Return the solution of three linear equations, by elimination with row exchange."""
    rows = [[*row, right] for row, right in zip(matrix, wanted, strict=True)]
    for place in range(3):
        pivot = max(range(place, 3), key=lambda index: abs(rows[index][place]))
        rows[place], rows[pivot] = rows[pivot], rows[place]
        for below in range(place + 1, 3):
            factor = rows[below][place] / rows[place][place]
            rows[below] = [low - factor * high for low, high in zip(rows[below], rows[place], strict=True)]
    third = rows[2][3] / rows[2][2]
    second = (rows[1][3] - rows[1][2] * third) / rows[1][1]
    first = (rows[0][3] - rows[0][1] * second - rows[0][2] * third) / rows[0][0]
    return first, second, third
