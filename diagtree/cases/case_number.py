"""The number of a case, short enough to call across the workshop: year and running number, `2026-0042`."""

from __future__ import annotations

import re
import sqlite3
from datetime import datetime
from typing import NewType

from diagtree.errors import WrongUse

CaseId = NewType("CaseId", str)

_TYPED = re.compile(r"(?:(\d{4})-)?(\d{1,9})", re.ASCII)


def case_id_of(year: int, number: int) -> CaseId:
    """Return the case number as it is shown."""
    return CaseId(f"{year:04d}-{number:04d}")


def year_of(at: str) -> int:
    """Return the year of an ISO date and time. Raises WrongUse if it is none."""
    try:
        return datetime.fromisoformat(at).year
    except ValueError as error:
        raise WrongUse(f"at={at!r} is not a time; expected ISO 8601, for example 2026-03-02T08:15:00+00:00") from error


def next_number(connection: sqlite3.Connection, year: int) -> int:
    """Return the year's next free number, inside the caller's write transaction, so that nobody else gets it."""
    query = "SELECT COALESCE(MAX(number), 0) + 1 FROM cases WHERE year = ?"
    return int(connection.execute(query, (year,)).fetchone()[0])


def resolve(connection: sqlite3.Connection, typed: str) -> CaseId | None:
    """Return the case meant by `2026-0042`, `2026-42` or `42` (of the latest year that has it), or None."""
    match = _TYPED.fullmatch(typed.strip())
    if not match:
        return None
    query = "SELECT id FROM cases WHERE number = ? AND year = COALESCE(?, year) ORDER BY year DESC LIMIT 1"
    year = int(match[1]) if match[1] else None
    row = connection.execute(query, (int(match[2]), year)).fetchone()
    return CaseId(row[0]) if row else None


def is_number(typed: str) -> bool:
    """Return whether `typed` is written as a case is, whether there is one or not."""
    return _TYPED.fullmatch(typed.strip()) is not None
