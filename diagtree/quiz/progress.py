"""Progress of one trainee, by subject: what was decided rightly, over time. Pure; the clock is handed in.

What counts: every answer of a drill (one with a hint counts as not right), every decision of a round by its regret
(`quiz.score`), every unsafe act as a wrong decision of safety, every work on a car that was made dead for it as a right
one. Nothing else: moves that cost time and hints are in the money of the round, not here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

from diagtree.errors import StoreError
from diagtree.quiz.subject import SUBJECTS
from diagtree.records import dataclass

RECENT = 20
"""So many of the latest decisions of a subject say how well it goes now; what was long ago is forgiven."""


@dataclass(frozen=True, slots=True)
class Decided:
    """One decision that counts. round : number of its round. at : when that round ended (ISO time)."""

    round: int
    at: str
    subject: str
    right: bool


@dataclass(frozen=True, slots=True)
class Tally:
    """How a subject stands. share : of right decisions among the latest `RECENT`, None where there are none. [-]

    rounds : share of right decisions of each round that touched it, oldest first. last : time of the latest.
    """

    subject: str
    count: int
    right: int
    share: float | None
    rounds: tuple[float, ...]
    last: str | None


def tallies(decided: Iterable[Decided]) -> tuple[Tally, ...]:
    """Return how every subject stands, in the order of SUBJECTS. The order within a round does not matter."""
    by_subject: dict[str, list[Decided]] = {subject: [] for subject in SUBJECTS}
    for one in decided:
        by_subject.setdefault(one.subject, []).append(one)
    return tuple(_tally(subject, by_subject[subject]) for subject in by_subject)


def _tally(subject: str, found: Sequence[Decided]) -> Tally:
    rounds = by_round(found)
    right = count = 0
    for round_ in reversed(rounds):  # whole rounds, so that the order within one does not matter
        if count >= RECENT:
            break
        count += len(round_)
        right += sum(one.right for one in round_)
    return Tally(
        subject,
        len(found),
        sum(one.right for one in found),
        right / count if count else None,
        tuple(sum(one.right for one in round_) / len(round_) for round_ in rounds),
        rounds[-1][0].at if rounds else None,
    )


def by_round(decided: Iterable[Decided]) -> list[list[Decided]]:
    """Return the decisions grouped by round, oldest first."""
    groups: dict[int, list[Decided]] = {}
    for one in decided:
        groups.setdefault(one.round, []).append(one)
    return sorted(groups.values(), key=lambda group: (moment(group[0].at), group[0].round))


def moment(at: str) -> datetime:
    """Return an ISO time in UTC; one without a zone counts as UTC. Raises StoreError where it is none."""
    try:
        found = datetime.fromisoformat(at)
    except ValueError as error:
        raise StoreError(f"`{at}` in the quiz file is no time; take the file from your backup") from error
    return found.replace(tzinfo=UTC) if found.tzinfo is None else found.astimezone(UTC)


def from_summary(number: int, at: str, summary: Mapping[str, Any]) -> tuple[Decided, ...]:
    """Return the decisions that the summary of a finished round holds; see `to_summary`."""
    try:
        listed = [(str(subject), bool(right)) for subject, right in summary.get("decided", ())]
    except (TypeError, ValueError) as error:
        raise StoreError(f"the end of round {number} is not one that this program writes: {error}") from error
    return tuple(Decided(number, at, subject, right) for subject, right in listed if subject in SUBJECTS)


def to_summary(decided: Iterable[tuple[str, bool]]) -> list[list[str | bool]]:
    """Return decisions (subject, right) as plain data for the summary's key `decided`."""
    return [[subject, right] for subject, right in decided]
