"""How badly a defect fits readings, and which of its values fit: least squares over one parameter.

    misfit(value) = least over the parts p of  sum ((reading - model(value, p)) / u)^2 + sum ((p - nominal) / s)^2

u is the reading's standard uncertainty, s = a / sqrt(3) that of a healthy part with the tolerance a: tolerances count
as further readings, one of each part. The circuits are so nearly linear in their parts that the inner minimum is had in
closed form, r' (U + J S J')^-1 r, with the sensitivities J taken anew at every value. The misfit of a defect is the
least over its values; the 95 % interval holds the values whose misfit is at most 3.84 more (chi-square, 1 degree).

Sources: JCGM 100:2008 (GUM) 4.3.7 for a / sqrt(3); Particle Data Group, Review of Particle Physics, "Statistics", for
tolerances as pseudo-readings, profiles and intervals.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cached_property, lru_cache
from math import erfc, exp, gamma, inf, isinf, sqrt
from typing import TYPE_CHECKING, Any

from diagtree.physics.defects.defect import HEALTHY, Defect, Loop
from diagtree.physics.defects.spot import Spot
from diagtree.records import dataclass

if TYPE_CHECKING:
    from numpy import ndarray

    Array = ndarray[Any, Any]

INTERVAL = 3.841
"""How much more misfit a value in the 95 per cent interval may have: chi-square, 1 degree of freedom. [-]"""
GRID, CLOSER, ROUNDS = 65, 33, 2
"""Values searched over the whole span; then, so many times, values between the best one's neighbours."""
STEP = 0.1
"""Step for the sensitivities, in standard uncertainties of the part. [-]"""


@dataclass(frozen=True, slots=True)
class Best:
    """The value of a defect that fits best, its misfit, and the readings it foretells with the parts that fit best."""

    value: float | None
    misfit: float
    foretold: tuple[float, ...]


@dataclass(frozen=True)
class Profile:
    """One defect against readings: its misfit by its value.

    loop : the healthy circuit. spots, numbers, deviations : where, what was read there, its standard uncertainty.
    Values are searched in x = value / (value + middle): there the circuits' levels are smooth, from 0 to infinity.
    """

    defect: Defect[Loop]
    loop: Loop
    spots: tuple[Spot, ...]
    numbers: tuple[float, ...]
    deviations: tuple[float, ...]

    @cached_property
    def best(self) -> Best:
        """The best value, found on a grid over the whole span and then closer."""
        import numpy

        grid, misfits = self._grid, self._coarse
        for _ in range(ROUNDS if len(grid) > 1 else 0):
            place = int(numpy.argmin(misfits))
            grid = numpy.linspace(grid[max(place - 1, 0)], grid[min(place + 1, len(grid) - 1)], CLOSER)
            misfits = self._misfits(grid)
        place = int(numpy.argmin(misfits))
        found = grid[place : place + 1]
        value = None if self.defect.span is None else self._value(float(found[0]))
        return Best(value, float(misfits[place]), self._foretold(found))

    def interval(self) -> tuple[float, float] | None:
        """Return the lowest and highest value of the 95 per cent interval; None for a defect without a value."""
        if self.best.value is None:
            return None
        x = self._x(self.best.value)
        return self._value(self._edge(x, -1)), self._value(self._edge(x, 1))

    def _edge(self, best: float, side: int) -> float:
        """Return the x nearest to the best one on a `side` (-1, 1) where the misfit has risen by INTERVAL."""
        import numpy

        level = self.best.misfit + INTERVAL
        beyond = self._grid * side > best * side
        points, misfits = self._grid[beyond][::side], self._coarse[beyond][::side]
        inner = outer = best
        for step in range(1 + ROUNDS):
            if step:
                points = numpy.linspace(inner, outer, CLOSER)[1:]
                misfits = self._misfits(points)
            above = numpy.flatnonzero(misfits > level)
            if len(above) == 0:
                return float(points[-1]) if len(points) else best
            place = int(above[0])
            inner, outer = float(points[place - 1]) if place else inner, float(points[place])
        return inner

    def _misfits(self, x: Array) -> Array:
        import numpy

        _, covariance, rest = self._at(x)
        solved = numpy.linalg.solve(covariance, rest[:, :, None])[:, :, 0]
        misfits: Array = numpy.einsum("mi,mi->m", rest, solved)
        return misfits

    def _foretold(self, x: Array) -> tuple[float, ...]:
        """Return what would be read with the parts at their best: the model brought as near as tolerances allow."""
        import numpy

        parts, covariance, rest = self._at(x)
        drawn = parts[0] @ parts[0].T @ numpy.linalg.solve(covariance[0], rest[0])
        return tuple(float(number) for number in self._numbers - rest[0] + drawn)

    def _at(self, x: Array) -> tuple[Array, Array, Array]:
        """Return for each x the parts' effects, the covariance of the readings, and readings less nominal levels."""
        table = self._table if x is self._grid or self.defect.span is None else _between(self._table, self._grid, x)
        levels, parts = table[:, :, 0], table[:, :, 1:]
        return parts, self._meters + parts @ parts.transpose(0, 2, 1), self._numbers - levels

    @cached_property
    def _coarse(self) -> Array:
        """The misfits over the whole grid."""
        return self._misfits(self._grid)

    @cached_property
    def _numbers(self) -> Array:
        import numpy

        return numpy.array(self.numbers)

    @cached_property
    def _meters(self) -> Array:
        import numpy

        return numpy.diag(numpy.square(self.deviations))

    @cached_property
    def _table(self) -> Array:
        import numpy

        return numpy.stack([column(self.defect, self.loop, spot) for spot in self.spots], axis=1)

    @cached_property
    def _grid(self) -> Array:
        return _grid(self.defect, self.loop)

    def _x(self, value: float) -> float:
        middle = _middle(self.defect, self.loop)
        return 1.0 if isinf(value) else value / (value + middle)

    def _value(self, x: float) -> float:
        middle = _middle(self.defect, self.loop)
        return inf if x >= 1.0 else middle * x / (1.0 - x)


def _middle(defect: Defect[Loop], loop: Loop) -> float:
    return defect.span(loop).middle if defect.span is not None else 1.0


@lru_cache(maxsize=256)
def _grid(defect: Defect[Loop], loop: Loop) -> Array:
    """Return the x that are searched: even steps over the span; a single one for a defect without a value."""
    import numpy

    if defect.span is None:
        return numpy.zeros(1)
    span = defect.span(loop)
    low, high = (1.0 if isinf(end) else end / (end + span.middle) for end in (span.low, span.high))
    return numpy.linspace(low, high, GRID)


@lru_cache(maxsize=2048)
def column(defect: Defect[Loop], loop: Loop, spot: Spot) -> Array:
    """Return for each x of the grid what is read at a spot: the nominal level, then what one s of each part adds."""
    import numpy

    middle = _middle(defect, loop)
    values = (inf if x >= 1.0 else middle * x / (1.0 - x) for x in _grid(defect, loop).tolist())
    return numpy.array([_row(defect, loop, spot, value) for value in values])


def _row(defect: Defect[Loop], loop: Loop, spot: Spot, value: float) -> tuple[float, ...]:
    effects = []
    for name, deviation in loop.parts():
        up, down = (_with_part(loop, name, side * STEP * deviation) for side in (1.0, -1.0))
        rise = defect.change(up, value).read(spot) - defect.change(down, value).read(spot)
        effects.append(rise / (2.0 * STEP))
    return (defect.change(loop, value).read(spot), *effects)


def _with_part(loop: Any, name: str, more: float) -> Any:
    return replace(loop, **{name: getattr(loop, name) + more})


def _between(table: Array, grid: Array, x: Array) -> Array:
    """Return the table's rows at `x`, by cubic interpolation through the four nearest rows of the even grid."""
    import numpy

    place = (x - grid[0]) / (grid[1] - grid[0])
    first = numpy.clip(numpy.floor(place).astype(int) - 1, 0, len(grid) - 4)[:, None]
    t = place[:, None] - first
    nearest = (
        -(t - 1.0) * (t - 2.0) * (t - 3.0) / 6.0,
        t * (t - 2.0) * (t - 3.0) / 2.0,
        -t * (t - 1.0) * (t - 3.0) / 2.0,
        t * (t - 1.0) * (t - 2.0) / 6.0,
    )
    # Weights of all rows, most of them 0: one product of matrices is quicker than picking rows.
    weights = numpy.zeros((len(x), len(grid)))
    weights[numpy.arange(len(x))[:, None], first + numpy.arange(4)] = numpy.hstack(nearest)
    found: Array = (weights @ table.reshape(len(grid), -1)).reshape(len(x), *table.shape[1:])
    return found


def chance_of_more(misfit: float, freedom: int) -> float:
    """Return the chance that a true explanation misfits more: the upper tail of chi-square. [-]

    freedom : degrees of freedom, 1 upwards. Closed sums: Abramowitz and Stegun, 26.4.4 and 26.4.5.
    """
    half = misfit / 2.0
    if freedom % 2 == 0:
        return exp(-half) * sum(half**power / gamma(power + 1.0) for power in range(freedom // 2))
    terms: float = sum(half ** (power + 0.5) / gamma(power + 1.5) for power in range((freedom - 1) // 2))
    return erfc(sqrt(half)) + exp(-half) * terms


def profiles(
    found: Sequence[Defect[Loop]], loop: Loop, readings: Mapping[Spot, tuple[float, float]]
) -> tuple[Profile, ...]:
    """Return each defect that the loop can have against the readings (spot to number and standard uncertainty).

    A plug without a latch button cannot have its button stuck: such a change leaves the loop as it is.
    """
    spots = tuple(readings)
    numbers = tuple(readings[spot][0] for spot in spots)
    deviations = tuple(readings[spot][1] for spot in spots)
    fit = (one for one in found if one.id == HEALTHY or one.span is not None or one.change(loop, 0.0) != loop)
    return tuple(Profile(one, loop, spots, numbers, deviations) for one in fit)
