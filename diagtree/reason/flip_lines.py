"""Policies as lines over a guess: what each costs all cars, and where one gets cheaper than another."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from diagtree.reason.guesses import Guess
from diagtree.reason.plan_arrays import Array, Bools, Floats, Ints
from diagtree.reason.written_costs import Sums

NOISE = 1e-9  # relative
ALL = slice(None)
ON_THE_WAY = (1.0, 0.9, 0.75, 0.6, 0.5, 0.4, 0.25, 0.1)  # where what is lost is looked at, the end first


class Lines:
    """Fixed policies: their first act (a number), their cost as things are written, their slope by every guess."""

    def __init__(self, asked: Sequence[Guess]) -> None:
        self.asked = asked
        self.act: Ints = np.zeros(0, np.int64)
        self.node: Ints = np.zeros(0, np.int64)
        self.cost: Floats = np.zeros(0)
        self.slope: Floats = np.zeros((0, len(asked)))
        self._values = np.array([guess.value for guess in asked])

    def add(self, act: int, node: int, sums: Sums) -> None:
        """Add the policy written down as `node`."""
        if node not in self.node:
            slopes = np.array([guess.slope(sums) for guess in self.asked])
            self.act, self.node = np.append(self.act, act), np.append(self.node, node)
            self.cost, self.slope = np.append(self.cost, sums.cost), np.concatenate([self.slope, slopes[None]])

    def at(self, guess: int, value: float) -> Floats:
        """Return what each policy costs all cars where the guess is `value`."""
        return np.asarray(self.cost + self.slope[:, guess] * (value - self._values[guess]))

    def nearest(self, now: int, ends: Floats, some: slice = ALL) -> Floats:
        """Return for guesses the value, on the way to their ends, from which a policy without `now` is cheaper.

        Not a number where none is. Exact for these policies: each rival undercuts every policy that begins with `now`
        between two crossings of lines.
        """
        own, other = self.act == now, self.act != now
        values, ends, slope = self._values[some], ends[some], self.slope[:, some]
        reach = ends - values
        if not other.any() or not own.any():
            return np.full(len(ends), np.nan)
        found = np.full(len(ends), np.inf)
        for rival in np.nonzero(other)[0].tolist():
            # How much dearer the rival is as things are; rounding counts against it.
            gap = (self.cost[rival] - self.cost[own] + NOISE * np.abs(self.cost[own]))[:, None]
            gain = (slope[rival] - slope[own]) * np.sign(reach)  # by how much more it rises on the way
            with np.errstate(divide="ignore", invalid="ignore"):
                crossing = -gap / gain
            begin = np.where(gain < 0, crossing, np.where(gap < 0, -np.inf, np.inf))
            end = np.where(gain > 0, crossing, np.inf)
            first = np.maximum(begin.max(axis=0), 0.0)
            good = (first < end.min(axis=0)) & (first < np.abs(reach) * (1 - NOISE))
            found = np.where(good, np.minimum(found, first), found)
        return np.asarray(values + np.sign(reach) * np.where(np.isfinite(found), found, np.nan))

    def wrong(self, now: int, ends: Floats) -> Floats:
        """Return for each guess what all cars lose at its end by beginning with `now`; below 0 where they gain.

        Where they gain at the end, what they lose most on the way there.
        """
        own, lost = self.act == now, []
        for part in ON_THE_WAY:
            costs = self.cost[:, None] + self.slope * (part * (ends - self._values))
            lost.append(costs[own].min(axis=0) - costs[~own].min(axis=0, initial=np.inf))
        return np.asarray(np.where(lost[0] > NOISE * abs(self.cost.min()), lost[0], np.max(lost, axis=0)))

    def cheapest(self, guess: int, value: float, among: Bools | None = None, towards: float | None = None) -> int:
        """Return the cheapest policy where the guess is `value`; of equally good ones that which is so `towards`."""
        costs = self.at(guess, value)
        if among is not None:
            costs = np.where(among, costs, np.inf)
        good = costs <= costs.min() + NOISE * abs(costs.min())
        further: Array = costs if towards is None else self.at(guess, towards)
        return int(np.where(good, further, np.inf).argmin())

    def crossing(self, guess: int, one: int, other: int) -> float:
        """Return the value at which two policies cost the same."""
        fall = self.slope[one, guess] - self.slope[other, guess]
        return float(self._values[guess] + (self.cost[other] - self.cost[one]) / fall)
