"""A floor by groups of causes: what telling a few causes apart costs, solved exactly and kept in tables.

The least cost V is concave in the unnormalised weights and V(k b) = k V(b); so V(b1 + b2 + ...) >= V(b1) + V(b2) + ...
for any way of splitting the causes among groups, V(bi) being the least cost were only the causes of group i possible
(docs/meaning.md). A group's state is the outcomes of the noisy tests that part it, and the arrangement; a test that
is perfect for the group leads to a smaller group. So every value is looked up, none is interpolated.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from diagtree.reason.plan_arrays import Arrays, Bools, Floats, Ints, parted
from diagtree.reason.plan_store import Column
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Table:
    """One group solved: `value[code, arrangement]` per car of the group, and where the part of it above perfect
    information begins in `Groups.above` ([arrangement, code] flattened).

    code : sum over the noisy tests that part the group of `place[test]` * (0 not done, else outcome + 1).
    """

    members: tuple[int, ...]
    place: Ints
    size: int
    value: Floats
    offset: int


class Groups:
    """The tables of one start: its weights, the tests that it leaves, and the arrangements that were known then.

    Arrangements that become known later cannot be reached from that start: its tables stay as wide as they are.
    """

    def __init__(self, arrays: Arrays, weights: Floats, tests: Bools) -> None:
        self.arrays = arrays
        self.arrangements = arrays.arrangements
        self.weights = weights
        self.left = tests
        self.tables: dict[int, Table] = {}
        self.above = Column(float)
        self._places: dict[int, tuple[Ints, Ints, Ints, int]] = {}

    def entries(self, group: int) -> int:
        """Return how many values the table of `group` (causes as bits) holds; smaller groups not counted."""
        return self._place(group)[3] * self.arrangements

    def build(self, group: int) -> Table:
        """Return the table of `group`; those of its subsets are made on the way."""
        if group not in self.tables:
            for cause in members(group):
                if group != 1 << cause:
                    self.build(group & ~(1 << cause))
            self.tables[group] = self._solve(group)
        return self.tables[group]

    def _place(self, group: int) -> tuple[Ints, Ints, Ints, int]:
        """Return the tests that are perfect for `group`, those that are noisy, their places in the code, its size."""
        if group not in self._places:
            chances = self.arrays.chance[:, :, list(members(group))]
            parting = parted(chances) & self.left
            sharp = ((chances == 0) | (chances == 1)).all(axis=(1, 2))
            noisy = np.nonzero(parting & ~sharp)[0]
            place, size = np.zeros(self.arrays.tests, np.int64), 1
            for test in noisy.tolist():
                place[test] = min(size, 2**62)  # beyond that the group is left out as too large
                size *= self.arrays.outcomes[test] + 1
            self._places[group] = np.nonzero(parting & sharp)[0], noisy, place, size
        return self._places[group]

    def _solve(self, group: int) -> Table:
        sharp, noisy, place, size = self._place(group)
        causes, arrays = members(group), self.arrays
        codes = np.arange(size)
        digits = np.stack(
            [codes // place[test] % (arrays.outcomes[test] + 1) for test in noisy.tolist()] or [codes * 0], axis=1
        )
        weights = np.tile(self.weights[list(causes)], (size, 1))
        for column, test in enumerate(noisy.tolist()):
            rows = arrays.chance[test][: arrays.outcomes[test]][:, list(causes)]
            weights *= np.vstack([np.ones(len(causes)), rows])[digits[:, column]]
        value = np.zeros((size, self.arrangements))
        alive = weights > 0
        whole = alive.all(axis=1)
        self._fill_parts(value, causes, noisy, digits, alive)
        mass = weights.sum(axis=1)
        belief = weights / np.where(mass > 0, mass, 1.0)[:, None]
        rows = np.nonzero(whole)[0]
        value[rows] = self._without_noisy(causes, sharp, noisy, digits[rows], belief[rows])
        self._sweep(value, noisy, place, digits, mass, np.asarray(whole))
        above = value[rows] - belief[rows] @ arrays.alone[: self.arrangements, list(causes)].T
        gaps = np.zeros_like(value)
        gaps[rows] = np.maximum(above, 0.0)
        return Table(causes, place, size, value, self.above.add(gaps.T.ravel()))

    def _fill_parts(self, value: Floats, causes: tuple[int, ...], noisy: Ints, digits: Ints, alive: Bools) -> None:
        """Where outcomes have ruled some members out, the value is that of the smaller group."""
        patterns = alive @ (1 << np.arange(len(causes)))
        for pattern in np.unique(patterns).tolist():
            kept = bits(cause for rank, cause in enumerate(causes) if pattern >> rank & 1)
            if kept and kept != bits(causes):
                rows = patterns == pattern
                value[rows] = self._smaller(kept, noisy, digits[rows])

    def _smaller(self, group: int, noisy: Ints, digits: Ints) -> Floats:
        table = self.build(group)
        if not len(noisy):
            return np.repeat(table.value[:1], len(digits), axis=0)
        return np.asarray(table.value[digits @ table.place[noisy]])

    def _without_noisy(
        self, causes: tuple[int, ...], sharp: Ints, noisy: Ints, digits: Ints, belief: Floats
    ) -> Floats:
        """Return the least cost if the next act is an ending, a correction or a test that is perfect for the group."""
        arrays, group, known = self.arrays, bits(causes), slice(self.arrangements)
        everyone = np.zeros((len(belief), arrays.causes))
        everyone[:, list(causes)] = belief
        best = np.stack(
            [arrays.stop(everyone, np.full(len(belief), place)) for place in range(self.arrangements)], axis=1
        )
        for rank, cause in enumerate(causes):
            if arrays.correctable[cause]:
                hit = belief[:, rank, None]
                cost = arrays.correct[known, cause] + hit * arrays.solved[known, cause]
                if len(causes) > 1:
                    rest = self._smaller(group & ~(1 << cause), noisy, digits)
                    cost = cost + (1 - hit) * rest[:, arrays.correct_next[known, cause]]
                np.minimum(best, cost, out=best)
        for test in sharp.tolist():
            cost = np.repeat(arrays.test_cost[known, test][None], len(belief), axis=0)
            for outcome in range(arrays.outcomes[test]):
                shown = arrays.chance[test, outcome, list(causes)] == 1
                if shown.any():
                    part = bits(cause for cause, shows in zip(causes, shown.tolist(), strict=True) if shows)
                    after = self._smaller(part, noisy, digits)[:, arrays.test_next[known, test]]
                    cost = cost + belief[:, shown].sum(axis=1)[:, None] * after
            np.minimum(best, cost, out=best)
        return np.asarray(best)

    def _sweep(self, value: Floats, noisy: Ints, place: Ints, digits: Ints, mass: Floats, whole: Bools) -> None:
        """Let noisy tests go first where that is cheaper: from the codes with most tests done to the empty one."""
        arrays, known = self.arrays, slice(self.arrangements)
        done = (digits > 0).sum(axis=1)
        open_for = [(digits[:, column] == 0) & whole for column in range(len(noisy))]
        for level in range(len(noisy) - 1, -1, -1):
            here = done == level
            for column, test in enumerate(noisy.tolist()):
                rows = np.nonzero(open_for[column] & here)[0]
                onward = arrays.test_next[known, test]
                cost = np.zeros((len(rows), self.arrangements))
                for outcome in range(arrays.outcomes[test]):
                    after = rows + (outcome + 1) * place[test]
                    cost += (mass[after] / mass[rows])[:, None] * value.take(after, axis=0).take(onward, axis=1)
                cost += arrays.test_cost[known, test]
                value[rows] = np.minimum(value.take(rows, axis=0), cost)


def members(group: int) -> tuple[int, ...]:
    """Return the numbers of the bits that are set, ascending."""
    return tuple(number for number in range(group.bit_length()) if group >> number & 1)


def bits(numbers: Iterable[int]) -> int:
    """Return the number with these bits set."""
    return sum(1 << number for number in numbers)

