"""Where a case stands: the fold of its events."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from diagtree.reason.arrangement import START, Arrangement
from diagtree.records import dataclass
from diagtree.walk.events import AbsenceMeasured, AdviceShown, Answered, Item, Measured, Noted, ProofCharged


@dataclass(frozen=True, slots=True)
class Running:
    """A procedure in progress. `indices` are the steps it runs through (all, or those of a repeated proof)."""

    procedure: str
    indices: tuple[int, ...]
    done: int = 0  # how many of `indices`

    @property
    def index(self) -> int:
        """The step that is due now."""
        return self.indices[self.done]


@dataclass(frozen=True, slots=True)
class Spent:
    """Minutes of one physical act: kind (open, close, make-safe, re-energise, hand-back), what, minutes. [min]"""

    kind: str
    key: str
    minutes: float


@dataclass(frozen=True, slots=True)
class State:
    """A case's state. Answers stand in `items`, in order; all else is what physically happened.

    arrangement : what counts as open and live; dead only after the absence of voltage was proven in this case.
    opened : the open accesses in the order in which they were opened.
    proven_at : when the absence was last proven (ISO time); None where that proof is not good any more.
    isolation_begun : steps of making safe were done, but the absence is not proven; live work needs re-energising.
    """

    items: tuple[Item, ...] = ()
    arrangement: Arrangement = START
    opened: tuple[str, ...] = ()
    asked_already: bool = False
    running: Running | None = None
    voltage_found: bool = False
    proven_at: str | None = None
    isolation_begun: bool = False
    confirmed: str | None = None
    measured: Measured | None = None
    compare: bool = False
    meters: Mapping[str, str] = field(default_factory=dict)
    facts: Mapping[str, float | str | Mapping[str, float | str]] = field(default_factory=dict)
    corrected: tuple[str, ...] = ()
    charged: ProofCharged | None = None
    spent: tuple[Spent, ...] = ()
    absences: tuple[AbsenceMeasured, ...] = ()
    notes: tuple[Noted, ...] = ()
    advised: tuple[int, AdviceShown] | None = None  # advice shown last, and how many items there were then
    last: Answered | None = None  # the answer given just now, to tell what it meant
    closed: str | None = None
    count: int = 0  # events folded
