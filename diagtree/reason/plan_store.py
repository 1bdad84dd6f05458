"""Growing columns and a hash index over arrays: the storage under the graph of states."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from diagtree.reason.plan_arrays import Array, Ints

Words = npt.NDArray[np.uint64]

LONG = 200_000  # rows; longer columns grow by less at a time

_STEP = np.uint64(0x9E3779B97F4A7C15)
_MIX_1, _MIX_2 = np.uint64(0xBF58476D1CE4E5B9), np.uint64(0x94D049BB133111EB)


def mix(words: Words) -> Words:
    """Return `words` scrambled, one to one (the finaliser of SplitMix64; Steele, Lea and Flood 2014)."""
    words = (words ^ (words >> np.uint64(30))) * _MIX_1
    words = (words ^ (words >> np.uint64(27))) * _MIX_2
    return words ^ (words >> np.uint64(31))


def constants(salt: int, count: int) -> Words:
    """Return `count` fixed odd numbers without pattern; other salts give others."""
    numbers = np.arange(1, count + 1, dtype=np.uint64) + np.uint64(salt << 32)
    return mix(numbers * _STEP) | np.uint64(1)


class Column:
    """An array that grows at its end. `data` is longer than `count`; what lies beyond is room."""

    def __init__(self, kind: npt.DTypeLike, width: int | None = None) -> None:
        self.data: Array = np.zeros(1024 if width is None else (1024, width), kind)
        self.count = 0

    def add(self, rows: Array) -> int:
        """Put `rows` at the end and return the number of the first."""
        begin, end = self.count, self.count + len(rows)
        if end > len(self.data):
            ahead = 1.5 if end < LONG else 1.2
            longer = np.zeros((max(end, int(len(self.data) * ahead)), *self.data.shape[1:]), self.data.dtype)
            longer[:begin] = self.data[:begin]
            self.data = longer
        self.data[begin:end] = rows
        self.count = end
        return begin


class Index:
    """Keys of 64 bits to numbers, many at a time: open addressing with linear probing, at most half full."""

    def __init__(self) -> None:
        self._bits = 12
        self._count = 0
        self._clear()

    @property
    def bytes(self) -> int:
        """Room taken. [B]"""
        return int(self._keys.nbytes + self._numbers.nbytes)

    def find(self, keys: Words) -> Ints:
        """Return the numbers of `keys`, -1 where unknown."""
        found = np.full(len(keys), -1, np.int64)
        slots, live = keys & self._mask, np.arange(len(keys))
        while len(live):
            here = slots[live]
            numbers = self._numbers[here]
            taken = numbers >= 0
            hit = taken & (self._keys[here] == keys[live])
            found[live[hit]] = numbers[hit]
            live = live[taken & ~hit]
            slots[live] = (slots[live] + np.uint64(1)) & self._mask
        return found

    def add(self, keys: Words, numbers: Ints) -> None:
        """Enter `keys`, which must be unlike each other and new."""
        self._count += len(keys)
        if 2 * self._count > len(self._numbers):
            old = self._numbers >= 0
            old_keys, old_numbers = self._keys[old], self._numbers[old]
            while 2 * self._count > 1 << self._bits:
                self._bits += 1
            self._clear()
            self._enter(old_keys, old_numbers)
        self._enter(keys, numbers)

    def _clear(self) -> None:
        self._keys: Words = np.zeros(1 << self._bits, np.uint64)
        self._numbers: npt.NDArray[np.int32] = np.full(1 << self._bits, -1, np.int32)
        self._mask = np.uint64((1 << self._bits) - 1)

    def _enter(self, keys: Words, numbers: Array) -> None:
        slots, live = keys & self._mask, np.arange(len(keys))
        while len(live):
            free = self._numbers[slots[live]] < 0
            tried = live[free]
            self._numbers[slots[tried]] = numbers[tried]  # of several for one slot the last stays
            self._keys[slots[tried]] = keys[tried]
            lost = tried[self._numbers[slots[tried]] != numbers[tried]]
            live = np.concatenate([live[~free], lost])
            slots[live] = (slots[live] + np.uint64(1)) & self._mask
