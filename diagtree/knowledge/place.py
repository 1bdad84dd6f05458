"""Where something stands in a file, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from enum import StrEnum
from typing import NamedTuple, TypeAlias

from diagtree.records import dataclass


class Place(NamedTuple):  # made ten thousands of times: half the time of a dataclass
    """A place in a knowledge file. `line` and `column` count from 1, in characters."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


Places: TypeAlias = Mapping[str, Place]
"""Where an object's values stand: `key`, and `key.NAME` for each name under it. Only for messages."""


class LaterPlaces(Mapping[str, Place]):
    """Places that are looked for when somebody asks: nobody does where nothing is wrong."""

    __slots__ = ("_find", "_found")

    def __init__(self, find: Callable[[], dict[str, Place]]) -> None:
        """`find` is called once, if at all."""
        self._find = find
        self._found: dict[str, Place] | None = None

    def _places(self) -> dict[str, Place]:
        if self._found is None:
            self._found = self._find()
        return self._found

    def __getitem__(self, key: str) -> Place:
        return self._places()[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._places())

    def __len__(self) -> int:
        return len(self._places())


class Level(StrEnum):
    """How much a finding matters."""

    ERROR = "error"  # the knowledge cannot be used
    WARNING = "warning"  # it can be used, but something costs money or trust
    REMARK = "remark"  # a matter of words


@dataclass(frozen=True, slots=True)
class Finding:
    """One mistake: its rule, level and place, what is wrong (with what to do), and answers that walk into it."""

    rule: str
    level: Level
    place: Place
    message: str
    witness: str | None = None

    def __str__(self) -> str:
        return f"{self.place} {self.level.value}: {self.message} [{self.rule}]"
