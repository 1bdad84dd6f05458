"""Cars at one place of a tree, in rows of an array: all states of a step are worked on at once.

Only what prices imports this module (and with it numpy).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from diagtree.reason.plan import Act, State
from diagtree.reason.plan_arrays import Arrays, Bools, Floats, Ints
from diagtree.records import dataclass

ALIKE = 13  # decimals of a cause's chance in which cars must agree to be one row


@dataclass(frozen=True, slots=True)
class Cars:
    """Rows of cars that are alike. Nothing was corrected in vain on them, or what was is none of their causes.

    weights : [row, cause], never normalised. place : number of the arrangement. left : [row, test], tests not done yet.
    digits : [row, test], 0 for a test not done, else its outcome + 1; of cars that came on many ways, those of one.
    """

    weights: Floats
    place: Ints
    left: Bools
    digits: Ints

    @classmethod
    def first(cls, state: State, place: int, tests: int) -> Cars:
        """Return the one row of the cars of `state`, on which nothing was tested."""
        left = np.zeros((1, tests), bool)
        left[0, list(state.tests_left)] = True
        return cls(np.array([state.weights], float), np.array([place]), left, np.zeros((1, tests), np.int64))

    @property
    def total(self) -> Floats:
        """The weight of all cars of each row."""
        return np.asarray(self.weights.sum(axis=1))

    def pick(self, rows: Ints | Bools) -> Cars:
        """Return some of the rows."""
        return Cars(self.weights[rows], self.place[rows], self.left[rows], self.digits[rows])

    def shown(self, arrays: Arrays, test: int, outcome: int) -> tuple[Ints, Cars]:
        """Return the rows that have any cars once a test has shown an outcome, and these cars."""
        weights = self.weights * arrays.chance[test, outcome]
        rows = np.nonzero(weights.sum(axis=1))[0]
        left, digits = self.left[rows], self.digits[rows]
        left[:, test], digits[:, test] = False, outcome + 1
        return rows, Cars(weights[rows], arrays.test_next[self.place[rows], test], left, digits)

    def failed(self, arrays: Arrays, cause: int) -> tuple[Ints, Cars]:
        """Return the rows that have any cars once a correction was in vain, and these cars."""
        weights = self.weights.copy()
        weights[:, cause] = 0.0
        rows = np.nonzero(weights.sum(axis=1))[0]
        place = arrays.correct_next[self.place[rows], cause]
        return rows, Cars(weights[rows], place, self.left[rows], self.digits[rows])

    def cost(self, arrays: Arrays, act: Act, number: int) -> Floats:
        """Return what an act costs for all cars of each row, with the end of those it ends for.

        number : of the test, or of the cause that is corrected or advised for.
        """
        total = self.total
        if act.kind == "test":
            return np.asarray(total * arrays.test_cost[self.place, number])
        if act.kind == "refer":
            return np.asarray(total * arrays.refer[self.place])
        hit = self.weights[:, number]
        if act.kind == "correct":
            return np.asarray(total * arrays.correct[self.place, number] + hit * arrays.solved[self.place, number])
        return np.asarray(total * arrays.advise[self.place, number] + (total - hit) * arrays.comeback)


def joined(parts: Sequence[Cars]) -> Cars:
    """Return the rows of all parts, one after the other."""
    return Cars(
        np.concatenate([part.weights for part in parts]), np.concatenate([part.place for part in parts]),
        np.concatenate([part.left for part in parts]), np.concatenate([part.digits for part in parts]),
    )


def together(cars: Cars) -> tuple[Cars, Ints]:
    """Return the cars with those in one row that differ in their number only, and for each old row its new one."""
    shares = np.round(cars.weights / cars.total[:, None], ALIKE)
    count = len(shares)
    keys = np.concatenate(
        [part.reshape(count, -1).view(np.uint8) for part in (shares, cars.place, cars.left)], axis=1
    )
    whole = np.ascontiguousarray(keys).view(np.dtype((np.void, keys.shape[1]))).ravel()
    unlike, firsts, back = np.unique(whole, return_index=True, return_inverse=True)
    back = back.ravel()
    if len(unlike) == count:
        return cars, np.arange(count)
    order = np.argsort(back, kind="stable")
    begins = np.searchsorted(back[order], np.arange(len(unlike)))
    some = cars.pick(firsts)
    return Cars(np.add.reduceat(cars.weights[order], begins), some.place, some.left, some.digits), back
