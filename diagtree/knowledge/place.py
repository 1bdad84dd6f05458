"""Where something stands in a file, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple, TypeAlias


class Place(NamedTuple):  # made ten thousands of times: half the time of a dataclass
    """A place in a knowledge file. `line` and `column` count from 1, in characters."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


Places: TypeAlias = Mapping[str, Place]
"""Where an object's values stand: `key`, and `key.NAME` for each name under it. Only for messages."""


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
