"""The events of a case: added in order, read back, chained by their hashes."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from typing import Any

from diagtree.cases.case_number import CaseId
from diagtree.cases.chain import compact, event_hash, whole
from diagtree.errors import CaseChangedElsewhere, StoreError, WrongUse

Event = Mapping[str, Any]


def head(connection: sqlite3.Connection, case_id: CaseId) -> tuple[int, str]:
    """Return how many events the case has, and the hash of the latest (of the opening, if there is none)."""
    query = "SELECT seq, hash FROM events WHERE case_id = ? ORDER BY seq DESC LIMIT 1"
    if row := connection.execute(query, (case_id,)).fetchone():
        return int(row[0]) + 1, str(row[1])
    row = connection.execute("SELECT hash FROM cases WHERE id = ?", (case_id,)).fetchone()
    if row is None:
        raise no_such_case(connection, case_id)
    return 0, str(row[0])


def no_such_case(connection: sqlite3.Connection, case_id: CaseId) -> WrongUse | StoreError:
    """Return what to raise when a case is not found; damage to the file can hide a case that is there."""
    (sound,) = connection.execute("PRAGMA integrity_check(1)").fetchone()
    if sound == "ok":
        return WrongUse(f"there is no case `{case_id}` in this store; `diagtree cases` lists what there is")
    return StoreError(f"case {case_id}: not found, but the store is damaged ({sound}); take it from your backup")


def append(connection: sqlite3.Connection, case_id: CaseId, seq: int, events: Sequence[Event]) -> None:
    """Add `events` as numbers `seq`, `seq` + 1 and so on, inside the caller's write transaction.

    Raises CaseChangedElsewhere if number `seq` has been written already, WrongUse if it leaves a gap.
    """
    count, previous = head(connection, case_id)
    if seq < count:
        raise CaseChangedElsewhere(
            f"case {case_id}: somebody else went on with this case in another window ({count - seq} new "
            f"{'entry' if count - seq == 1 else 'entries'}); nothing is lost, but this answer was not added: "
            "open the case anew and go on from there"
        )
    if seq > count:
        raise WrongUse(f"case {case_id}: event number {seq} would leave a gap; the next is {count}")
    for number, event in enumerate(events, start=seq):
        body, at = compact(event), time_of(event)
        previous = event_hash(previous, number, at, event)
        connection.execute("INSERT INTO events VALUES (?, ?, ?, ?, ?)", (case_id, number, at, body, previous))


def read(connection: sqlite3.Connection, case_id: CaseId) -> list[dict[str, Any]]:
    """Return the events in order. Raises StoreError, naming the event, if one is missing or is no event."""
    head(connection, case_id)
    return whole(
        connection.execute("SELECT seq, body FROM events WHERE case_id = ? ORDER BY seq", (case_id,)),
        lambda number: f"case {case_id}: event number {number} is missing or damaged; the case cannot be gone on with, "
        "take the store from your backup or begin a new case",
    )


def time_of(event: Event) -> str | None:
    """Return when the event happened, if it says so under `at`: the one key of an event that the store reads."""
    at = event.get("at")
    return readable(at) if isinstance(at, str) else None


def readable(text: str) -> str:
    """Return `text` as SQLite can keep it: bytes that were no text when typed are written out."""
    return text.encode("utf-8", "backslashreplace").decode("utf-8")
