"""What a driver answers: data. The first four fit a prompt's form; the others may be said at every prompt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import TypeAlias

from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Chosen:
    """Options of a Choice, by id."""

    options: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Typed:
    """Values of Fields, as typed, by field name. `meter` names another tool than the test's own."""

    values: Mapping[str, str]
    meter: str | None = None


@dataclass(frozen=True, slots=True)
class Ticked:
    """A Tick confirmed: the word as typed, and what was said to its extra question."""

    word: str
    says: str = ""


@dataclass(frozen=True, slots=True)
class NotDone:
    """Could not or did not do it: no evidence. The reason goes on the record."""

    reason: str


@dataclass(frozen=True, slots=True)
class Back:
    """Take back the last `count` answers, confirmed steps of a procedure under way first. Physical acts stay."""

    count: int = 1


@dataclass(frozen=True, slots=True)
class DidNot:
    """Said of a step of making safe: "I did not do that". The car counts as live at once."""

    reason: str = ""


@dataclass(frozen=True, slots=True)
class Changed:
    """Somebody changed the car behind the tool: it was powered, accesses were opened or closed."""

    powered: bool = False
    opened: tuple[str, ...] = ()
    closed: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """A remark for the record, kept with the prompt it was made at."""

    text: str


@dataclass(frozen=True, slots=True)
class RecordTest:
    """Another test that was done anyway: its outcome, or its readings as typed. `note` says who measured when."""

    test: str
    outcome: str | None = None
    values: Mapping[str, str] = field(default_factory=dict)
    note: str = ""
    was_mistake: bool = False  # it replaces an earlier answer that was a mistake


@dataclass(frozen=True, slots=True)
class DoNow:
    """Do this test now, out of the tree's turn (it shares an access, or today's evidence says so)."""

    test: str


@dataclass(frozen=True, slots=True)
class ChooseNow:
    """Leave the tree's turn and choose among all that remains: causes to correct or advise, tests, referral."""


@dataclass(frozen=True, slots=True)
class Leave:
    """Save and leave. Everything answered is kept; the walk resumes at this prompt."""


Answer: TypeAlias = (
    Chosen | Typed | Ticked | NotDone | Back | DidNot | Changed | Note | RecordTest | DoNow | ChooseNow | Leave
)
