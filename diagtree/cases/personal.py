"""The owner's data (name, plate, telephone) of a case: beside the events, because it must be possible to erase it."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping

from diagtree.cases.case_number import CaseId
from diagtree.cases.chain import compact, parsed
from diagtree.errors import WrongUse


def read(connection: sqlite3.Connection, case_id: CaseId) -> dict[str, str]:
    """Return the owner's data of the case; empty if there is none or it was erased."""
    row = connection.execute("SELECT body FROM personal WHERE case_id = ?", (case_id,)).fetchone()
    data = parsed(row[0]) if row else None  # damaged: shown as absent, no decision rests on it
    return {key: str(value) for key, value in (data or {}).items()}


def replace(connection: sqlite3.Connection, case_id: CaseId, data: Mapping[str, str]) -> None:
    """Keep `data` as the owner's data of the case, in place of what there was."""
    for key, value in data.items():
        if not isinstance(key, str) or not isinstance(value, str):
            raise WrongUse(f"owner's data {key!r}={value!r}: expected text")
    connection.execute("DELETE FROM personal WHERE case_id = ?", (case_id,))
    if data:
        connection.execute("INSERT INTO personal VALUES (?, ?)", (case_id, compact(data)))


def wipe_log(connection: sqlite3.Connection) -> bool:
    """Empty SQLite's log, in which erased data may still stand; False if another program is still reading there.

    Not inside a transaction. What the disk itself, and copies of the file, keep is out of reach.
    """
    (busy, _, _) = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    return not busy
