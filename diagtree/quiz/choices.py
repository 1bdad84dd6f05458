"""What a trainee may choose, at any time and in any order: acts as data, and their text form."""

from __future__ import annotations

from enum import StrEnum

from diagtree.errors import AnswerError
from diagtree.physics.nearest import did_you_mean
from diagtree.records import dataclass


class Kind(StrEnum):
    """The sorts of acts."""

    TEST = "test"
    OPEN = "open"
    CLOSE = "close"
    MAKE_SAFE = "make-safe"
    RE_ENERGISE = "re-energise"
    CORRECT = "correct"
    ADVISE = "advise"
    REFER = "refer"
    HINT = "hint"
    STOP = "stop"


NAMED = frozenset({Kind.TEST, Kind.OPEN, Kind.CLOSE, Kind.CORRECT, Kind.ADVISE})
"""Sorts of acts that name a test, an access or a cause."""
SURE = frozenset({Kind.CORRECT, Kind.ADVISE})
"""Sorts of acts before which the trainee says how sure they are."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One act. `id` : test, access or cause, where the sort names one. `sure` : of the named cause. [percent]"""

    kind: Kind
    id: str | None = None
    sure: float | None = None

    @property
    def words(self) -> str:
        """The act as it is typed, without how sure."""
        return self.kind.value if self.id is None else f"{self.kind.value} {self.id}"


def read_choice(text: str) -> Choice:
    """Return the act that was typed: `test ID`, `open ID`, `make-safe`, `correct CAUSE 80`, ...

    Raises AnswerError where it is none; whether a name exists is not known here.
    """
    words = text.split()
    if not words or words[0].lower() not in set(Kind):
        hint = did_you_mean(words[0], list(Kind)) if words else ""
        raise AnswerError(f"`{text[:60]}` is no act{hint}; acts: {', '.join(Kind)}")
    kind, rest = Kind(words[0].lower()), words[1:]
    if kind not in NAMED:
        if rest:
            raise AnswerError(f"`{kind}` stands alone; got `{' '.join(rest)[:60]}` after it")
        return Choice(kind)
    if not rest or len(rest) > (2 if kind in SURE else 1):
        more = " and how sure in per cent" if kind in SURE else ""
        raise AnswerError(f"`{kind}` needs one name{more}: `{kind} NAME{' 80' if kind in SURE else ''}`")
    return Choice(kind, rest[0], read_sure(rest[1]) if len(rest) == 2 else None)


def read_sure(text: str) -> float:
    """Return how sure the trainee is: `80`, `80 %`, `62,5`. [percent] Raises AnswerError outside 0 to 100."""
    try:
        sure = float(text.strip().removesuffix("%").strip().replace(",", "."))
    except ValueError:
        sure = -1.0
    if not 0.0 <= sure <= 100.0:
        raise AnswerError(f"how sure is a number from 0 to 100, in per cent; got `{text[:30]}`")
    return sure
