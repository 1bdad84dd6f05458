"""Which groups to take together: the floor of a state is the best of a few good partitions of its causes.

Partitions are found greedily on sample states, once for each set of causes still possible, and then tried on all.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np

from diagtree.reason.bounds_groups import Groups, Table, bits, codes_of, members
from diagtree.reason.plan_arrays import Array, Arrays, Bools, Floats, Ints

LARGEST_TABLE = 400_000  # entries; larger groups do not pay
ALL_TABLES = 10_000_000  # entries; 160 MB
MOST_GROUPS = 4_000  # groups of one size that are looked at
SAMPLES = 48
PARTITIONS = 24


@dataclass(slots=True)
class _Choice:
    """The groups in use for one set of causes, the partitions made of them, and on how many states they were chosen."""

    tables: list[Table]
    member: Floats
    offset: Ints
    size: Ints
    partitions: Ints  # [partition, slot]: a group's rank; the number of groups stands for none
    seen: int


class PartitionFloor:
    """What partitions into groups add to perfect information, for states that follow from one start."""

    def __init__(self, arrays: Arrays, weights: Floats, tests: Bools) -> None:
        self.arrays = arrays
        self.groups = Groups(arrays, weights, tests)
        self.entries = 0
        self._causes = bits(np.nonzero(weights > 0)[0].tolist())
        self._plan = self._order()
        self._next: int | None = next(self._plan, None)
        self._choices: dict[int, _Choice | None] = {}
        self._offsets: dict[int, int] = {}
        self._flat: Floats = np.zeros(0)

    @property
    def next_entries(self) -> int | None:
        """Return how many values the next table would hold; None where there is none worth building."""
        return None if self._next is None else self.groups.entries(self._next)

    def grow(self, entries: int) -> bool:
        """Build tables of about `entries` values together; return whether any was built."""
        before, goal = len(self.groups.tables), self.entries + entries
        while self._next is not None and self.entries < goal:
            self.groups.build(self._next)
            self.entries = sum(table.value.size for table in self.groups.tables.values())
            self._next = next(self._plan, None)
        if len(self.groups.tables) == before:
            return False
        self._freeze()
        return True

    def above(self, belief: Floats, digits: Array, place: Ints) -> Floats:
        """Return what is to be added to perfect information, per car. [money]"""
        found = np.zeros(len(belief))
        if not len(belief) or not len(self._flat):
            return found
        alive = (belief > 0) @ (1 << np.arange(self.arrays.causes, dtype=np.int64))
        order = np.argsort(alive, kind="stable")
        ranked = alive[order]
        cuts = [0, *(np.nonzero(ranked[1:] != ranked[:-1])[0] + 1).tolist(), len(order)]
        for begin, end in pairwise(cuts):
            rows = order[begin:end]
            found[rows] = self._above(int(ranked[begin]), belief[rows], digits[rows], place[rows])
        return found

    def _order(self) -> Iterator[int]:
        """Yield the groups worth a table, pairs first; of one size those that promise most for their room."""
        causes, start = members(self._causes), self.groups.weights / self.groups.weights.sum()
        pairs: dict[int, float] = {}
        for size in range(2, len(causes) + 1):
            listed = [bits(some) for _, some in zip(range(MOST_GROUPS), combinations(causes, size), strict=False)]
            small = [group for group in listed if self.groups.entries(group) <= LARGEST_TABLE]
            if size == 2:
                small.sort(key=lambda group: (self.groups.entries(group), group))
            else:
                small.sort(key=lambda group: (-_promise(group, pairs) / self.groups.entries(group) ** 0.5, group))
            for group in small:
                if self.entries + self.groups.entries(group) <= ALL_TABLES:
                    yield group
                    if size == 2:
                        table = self.groups.tables[group]
                        pairs[group] = float(table.above[0, 0]) * sum(float(start[cause]) for cause in table.members)
            if not small:
                return

    def _freeze(self) -> None:
        offset, parts = 0, []
        for group, table in self.groups.tables.items():
            self._offsets[group] = offset
            parts.append(table.above.T.ravel())
            offset += table.above.size
        self._flat = np.concatenate(parts)
        self._choices = {}

    def _above(self, alive: int, belief: Floats, digits: Array, place: Ints) -> Floats:
        known = alive in self._choices
        choice = self._choices.get(alive)
        if not known or (choice is not None and choice.seen < SAMPLES and len(belief) > 2 * choice.seen):
            choice = self._choices[alive] = self._choose(alive, belief, digits, place)
        if choice is None:
            return np.zeros(len(belief))
        gaps = np.zeros((len(belief), len(choice.tables) + 1))
        gaps[:, :-1] = self._gaps(choice, belief, digits, place)
        total = gaps[:, choice.partitions[:, 0]]
        for slot in range(1, choice.partitions.shape[1]):
            total += gaps[:, choice.partitions[:, slot]]
        return np.asarray(total.max(axis=1))

    def _gaps(self, choice: _Choice, belief: Floats, digits: Array, place: Ints) -> Floats:
        at = codes_of(choice.tables, digits) + choice.offset + place[:, None] * choice.size
        return np.asarray(self._flat[at] * (belief @ choice.member))

    def _choose(self, alive: int, belief: Floats, digits: Array, place: Ints) -> _Choice | None:
        listed = [alive] if alive in self.groups.tables else [
            group for group in self.groups.tables if group & ~alive == 0 and group & (group - 1)
        ]
        if not listed or alive.bit_count() < 2:
            return None
        some = np.unique(np.linspace(0, len(belief) - 1, SAMPLES).astype(int))
        every = self._choice(listed, [], len(belief))
        gaps = self._gaps(every, belief[some], digits[some], place[some])
        sizes = np.array([group.bit_count() for group in listed])
        counts: dict[tuple[int, ...], int] = {}
        for row in gaps:
            best = max(_greedy(listed, row, row / (sizes - 1.0) ** power) for power in (1.0, 0.5, 0.0))[1]
            counts[best] = counts.get(best, 0) + 1
        kept = [chosen for chosen in sorted(counts, key=lambda chosen: -counts[chosen]) if chosen][:PARTITIONS]
        used = sorted({rank for chosen in kept for rank in chosen})
        if not used:
            return None
        return self._choice([listed[rank] for rank in used], [[used.index(r) for r in c] for c in kept], len(belief))

    def _choice(self, listed: list[int], partitions: list[list[int]], seen: int) -> _Choice:
        tables = [self.groups.tables[group] for group in listed]
        member = np.zeros((self.arrays.causes, len(listed)))
        for rank, table in enumerate(tables):
            member[list(table.members), rank] = 1.0
        slots = max((len(chosen) for chosen in partitions), default=0)
        padded = [[*chosen, *[len(listed)] * (slots - len(chosen))] for chosen in partitions]
        return _Choice(
            tables, member, np.array([self._offsets[group] for group in listed]),
            np.array([table.size for table in tables]), np.array(padded, np.int64).reshape(len(padded), slots), seen,
        )


def _promise(group: int, pairs: dict[int, float]) -> float:
    causes = members(group)
    return sum(pairs.get(1 << one | 1 << other, 0.0) for one, other in combinations(causes, 2))


def _greedy(listed: list[int], gaps: Floats, scores: Floats) -> tuple[float, tuple[int, ...]]:
    """Return the sum and the ranks of groups without common causes, taken by `scores`."""
    used, total, chosen = 0, 0.0, []
    for rank in np.argsort(-scores, kind="stable").tolist():
        if gaps[rank] <= 0:
            if scores[rank] <= 0:
                break
        elif listed[rank] & used == 0:
            used |= listed[rank]
            total += float(gaps[rank])
            chosen.append(rank)
    return total, tuple(sorted(chosen))
