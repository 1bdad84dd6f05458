"""Which groups to take together: the floor of a state is the best of a few good partitions of its causes.

Partitions are found greedily on sample states, once for each set of causes still possible, and then tried on all.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np

from diagtree.reason.bounds_groups import Groups, bits, members
from diagtree.reason.plan_arrays import Array, Arrays, Bools, Floats, Ints
from diagtree.reason.plan_state import never

LARGEST_TABLE = 400_000  # entries; larger groups do not pay
ALL_TABLES = 8_000_000  # entries; 130 MB
LEAST_EFFORT = 1_000  # making any table takes as long as filling so many entries
MOST_TABLES = 400
MOST_GROUPS = 1_000  # groups of one size that are looked at
MANY = 48  # states with the same causes possible that are worth partitions of their own
SAMPLES = 24
PARTITIONS = 24
BATCH = 1_500_000  # numbers in the largest array of one batch


@dataclass(slots=True)
class _Listed:
    """Some groups side by side: where their tables lie, who is a member ([cause, group]), and who shares a member."""

    place: Floats  # [test, group]
    offset: Ints
    size: Ints
    member: Floats
    count: Floats  # members of each group
    clash: Bools


@dataclass(slots=True)
class _Choice:
    """The groups in use for one set of causes, and the partitions made of them ([partition, slot]: a group's rank)."""

    groups: _Listed
    partitions: Ints  # the number of groups stands for none


class PartitionFloor:
    """What partitions into groups add to perfect information, for states that follow from one start."""

    def __init__(self, arrays: Arrays, weights: Floats, tests: Bools) -> None:
        self.arrays = arrays
        self.groups = Groups(arrays, weights, tests)
        self.entries = 0
        self.effort = 0  # what the tables have taken to make, in entries
        self._causes = bits(np.nonzero(weights > 0)[0].tolist())
        self._plan = self._order()  # begun only once a search turns out long: a first advice does not wait for it
        self._next: int | None = None
        self._looked = False
        self._choices: dict[int, _Choice | None] = {}
        self._all: _Listed | None = None

    @property
    def next_effort(self) -> int | None:
        """Return what the next table would take to make; None where there is none worth making."""
        self._look()
        return None if self._next is None else max(LEAST_EFFORT, self.groups.entries(self._next))

    def grow(self, effort: int, out_of_time: Callable[[], bool] = never) -> bool:
        """Make tables for about this effort together, as far as time allows; return whether any was made."""
        self._look()
        before, goal = len(self.groups.tables), self.effort + effort
        while self._next is not None and self.effort < goal and not out_of_time():
            made, entries = len(self.groups.tables), self.entries
            self.groups.build(self._next)
            self.entries = self.groups.above.count
            self.effort += max(LEAST_EFFORT * (len(self.groups.tables) - made), self.entries - entries)
            self._next = next(self._plan, None)
        self._choices, self._all = {}, None
        return len(self.groups.tables) > before

    def _look(self) -> None:
        if not self._looked:
            self._looked, self._next = True, next(self._plan, None)

    def above(self, belief: Floats, digits: Array, place: Ints) -> Floats:
        """Return what is to be added to perfect information, per car. [money]"""
        found = np.zeros(len(belief))
        if not len(belief) or not self.entries:
            return found
        alive = (belief > 0) @ (1 << np.arange(self.arrays.causes, dtype=np.int64))
        order = np.argsort(alive, kind="stable")
        ranked = alive[order]
        few: list[Ints] = []
        for begin, end in pairwise([0, *(np.nonzero(ranked[1:] != ranked[:-1])[0] + 1).tolist(), len(order)]):
            rows, causes = order[begin:end], int(ranked[begin])
            if causes & (causes - 1) == 0:
                continue
            if end - begin < MANY:
                few.append(rows)
            else:
                found[rows] = self._by_partitions(causes, belief[rows], digits[rows], place[rows])
        if few:
            rest = np.concatenate(few)
            step = max(1, BATCH // len(self.groups.tables))
            for begin in range(0, len(rest), step):
                rows = rest[begin : begin + step]
                found[rows] = self._one_by_one(belief[rows], digits[rows], place[rows])
        return found

    def _order(self) -> Iterator[int]:
        """Yield the groups worth a table: all pairs, then larger ones, so that soon some cover all causes."""
        causes, start = members(self._causes), self.groups.weights / self.groups.weights.sum()
        pairs: dict[int, float] = {}
        fitting = [group for group in self._pairs(causes) if self.groups.entries(group) <= LARGEST_TABLE]
        ranked = sorted(fitting, key=lambda group: (-min(start[list(members(group))]), self.groups.entries(group)))
        for group in ranked[:MOST_TABLES]:
            yield group
            table = self.groups.tables[group]
            pairs[group] = float(self.groups.above.data[table.offset]) * float(start[list(table.members)].sum())
        if not pairs:
            return  # a larger group has a larger table
        for sizes in ((3, 4), (5, 6)):
            rounds: list[tuple[int, list[int]]] = []
            for size in sizes:
                ranked = self._ranked(self._small(causes, size, set(fitting)), pairs)
                rounds += [(number + 2 * size, some) for number, some in enumerate(_covers(ranked))]
            for _, some in sorted(rounds, key=lambda item: item[0]):
                for group in some:
                    room = self.entries + self.groups.entries(group) <= ALL_TABLES
                    if room and len(self.groups.tables) < MOST_TABLES:
                        yield group

    def _ranked(self, groups: list[int], pairs: dict[int, float]) -> list[int]:
        promise = {group: _promise(group, pairs) for group in groups}
        return sorted(groups, key=lambda group: (-promise[group], self.groups.entries(group), group))

    def _pairs(self, causes: tuple[int, ...]) -> list[int]:
        """Return the pairs of causes whose tables are not far too large."""
        chance = self.arrays.chance[self.groups.left][:, :, list(causes)]
        one, other = chance[:, :, :, None], chance[:, :, None, :]
        noisy = (one != other).any(axis=1) & ((one % 1 != 0) | (other % 1 != 0)).any(axis=1)
        each = np.log1p(np.array(self.arrays.outcomes)[self.groups.left])
        digits = each @ noisy.reshape(len(chance), len(causes) ** 2)
        size = digits.reshape(len(causes), len(causes)) + np.log(self.groups.arrangements)
        fits = np.triu(np.exp(size) <= LARGEST_TABLE * (1 + 1e-6), 1)
        return [1 << causes[one] | 1 << causes[other] for one, other in zip(*np.nonzero(fits), strict=True)]

    def _small(self, causes: tuple[int, ...], size: int, pairs: set[int]) -> list[int]:
        """Return groups of this size whose tables are small enough; none can be unless all pairs in it are."""
        some = (
            bits(chosen)
            for _, chosen in zip(range(MOST_GROUPS), combinations(causes, size), strict=False)
            if all(1 << one | 1 << other in pairs for one, other in combinations(chosen, 2))
        )
        return [group for group in some if self.groups.entries(group) <= LARGEST_TABLE]

    def _by_partitions(self, alive: int, belief: Floats, digits: Array, place: Ints) -> Floats:
        """Return the best of the partitions that were found for this set of causes."""
        if alive not in self._choices:
            some = np.unique(np.linspace(0, len(belief) - 1, SAMPLES).astype(int))
            self._choices[alive] = self._choose(alive, belief[some], digits[some], place[some])
        choice = self._choices[alive]
        if choice is None:
            return np.zeros(len(belief))
        gaps = np.zeros((len(belief), len(choice.groups.size) + 1))
        gaps[:, :-1] = self._gaps(choice.groups, belief, digits, place)
        total = gaps[:, choice.partitions[:, 0]]
        for slot in range(1, choice.partitions.shape[1]):
            total += gaps[:, choice.partitions[:, slot]]
        return np.asarray(total.max(axis=1))

    def _one_by_one(self, belief: Floats, digits: Array, place: Ints) -> Floats:
        """Return what a greedy partition of its own gives each state."""
        if self._all is None:
            self._all = self._list([group for group in self.groups.tables if group & (group - 1)])
        gaps = self._gaps(self._all, belief, digits, place)
        alive = (belief > 0).astype(float)
        allowed = alive @ self._all.member == self._all.count
        gaps *= allowed
        whole = allowed & (self._all.count == alive.sum(axis=1)[:, None])  # the state's causes are a group: exact
        exact = whole.any(axis=1)
        total = _greedy(self._all, gaps, 1.0)[0]
        total[exact] = gaps[exact, whole[exact].argmax(axis=1)]
        return total

    def _gaps(self, groups: _Listed, belief: Floats, digits: Array, place: Ints) -> Floats:
        codes = (digits.astype(float) @ groups.place).astype(np.int64)
        codes += groups.offset + place[:, None] * groups.size
        return np.asarray(self.groups.above.data[codes] * (belief @ groups.member))

    def _choose(self, alive: int, belief: Floats, digits: Array, place: Ints) -> _Choice | None:
        ids = (
            [alive]
            if alive in self.groups.tables
            else [group for group in self.groups.tables if group & ~alive == 0 and group & (group - 1)]
        )
        if not ids:
            return None
        every = self._list(ids)
        gaps = self._gaps(every, belief, digits, place)
        totals, picks = zip(*(_greedy(every, gaps, power) for power in (1.0, 0.5, 0.0)), strict=True)
        better = np.argmax(totals, axis=0)
        found: dict[tuple[int, ...], int] = {}
        for row, which in enumerate(better.tolist()):
            chosen = tuple(sorted(rank for rank in picks[which][row].tolist() if rank >= 0))
            found[chosen] = found.get(chosen, 0) + 1
        kept = [chosen for chosen in sorted(found, key=lambda chosen: -found[chosen]) if chosen][:PARTITIONS]
        used = sorted({rank for chosen in kept for rank in chosen})
        if not used:
            return None
        slots = max(len(chosen) for chosen in kept)
        new = {rank: number for number, rank in enumerate(used)}
        padded = [[*(new[rank] for rank in chosen), *[len(used)] * (slots - len(chosen))] for chosen in kept]
        return _Choice(self._list([ids[rank] for rank in used]), np.array(padded, np.int64))

    def _list(self, groups: list[int]) -> _Listed:
        tables = [self.groups.tables[group] for group in groups]
        member = np.zeros((self.arrays.causes, len(groups)))
        for rank, table in enumerate(tables):
            member[list(table.members), rank] = 1.0
        return _Listed(
            np.array([table.place for table in tables], float).reshape(len(groups), self.arrays.tests).T,
            np.array([table.offset for table in tables], np.int64),
            np.array([table.size for table in tables], np.int64),
            member,
            member.sum(axis=0),
            member.T @ member > 0,
        )


def _promise(group: int, pairs: dict[int, float]) -> float:
    causes = members(group)
    return sum(pairs.get(1 << one | 1 << other, 0.0) for one, other in combinations(causes, 2))


def _covers(ranked: list[int]) -> Iterator[list[int]]:
    """Yield lists of groups without common causes, each as good as is left, until all are used."""
    while ranked:
        used, chosen, rest = 0, [], []
        for group in ranked:
            if group & used:
                rest.append(group)
            else:
                used |= group
                chosen.append(group)
        yield chosen
        ranked = rest


def _greedy(groups: _Listed, gaps: Floats, power: float) -> tuple[Floats, Ints]:
    """Return for every state the sum of groups without common causes, and their ranks (-1 for none).

    They are taken by gap / (members - 1) ** power, the largest first.
    """
    score = gaps / (groups.count - 1) ** power
    rows, total = np.arange(len(gaps)), np.zeros(len(gaps))
    picks: list[np.ndarray] = []
    while True:
        best = score.argmax(axis=1)
        going = score[rows, best] > 0
        if not going.any():
            return total, np.stack(picks or [np.full(len(gaps), -1)], axis=1)
        total += np.where(going, gaps[rows, best], 0.0)
        picks.append(np.where(going, best, -1))
        score[groups.clash[best]] = 0.0
