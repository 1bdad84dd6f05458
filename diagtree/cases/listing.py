"""Lists of cases, worked out from their rows each time: there is no second copy that could be wrong."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from typing import Any

from diagtree.cases import personal
from diagtree.cases.case_number import CaseId
from diagtree.cases.chain import parsed
from diagtree.cases.standing import standing
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class CaseRow:
    """One case in a list."""

    id: CaseId
    tree: str  # that it was begun with
    complaint: str  # the tree that it stands in
    title: str  # what the owner says at the desk; else `title` of what the case was begun with, or empty
    vehicle: str  # `vehicle` of it, or empty
    status: str
    opened: str  # ISO 8601
    changed: str  # ISO 8601, of the latest event or status
    by: str | None  # who opened it
    events: int


_LIST = """
SELECT id, tree, meta, opened, by,
    (SELECT status FROM statuses WHERE case_id = id ORDER BY number DESC LIMIT 1) AS latest,
    (SELECT MAX(at) FROM statuses WHERE case_id = id),
    (SELECT at FROM events WHERE case_id = id AND at IS NOT NULL ORDER BY seq DESC LIMIT 1),
    (SELECT COUNT(*) FROM events WHERE case_id = id)
FROM cases
WHERE opened >= COALESCE(:since, opened)
    AND id = COALESCE(:case_id, id) AND (:status IS NULL OR latest = :status)
ORDER BY year DESC, number DESC
"""

LONGEST_TITLE = 60  # letters
_NOT_AS_TYPED = '"\\%_'  # JSON or LIKE writes or reads them in another way


def rows(
    connection: sqlite3.Connection,
    *,
    case_id: CaseId | None = None,
    status: str | None = None,
    tree: str | None = None,
    vehicle: str | None = None,
    since: str | None = None,
) -> Iterator[CaseRow]:
    """Give the cases that fit, newest first.

    tree : one that the case was begun with or stands in. since : ISO time of the opening, compared as text.
    """
    found = connection.execute(_LIST, {"case_id": case_id, "status": status, "since": since})
    for found_id, tree_id, facts_text, opened, by, latest, status_at, event_at, count in found:
        facts = parsed(facts_text) or {}  # a damaged row must not hide the others; `verify` names it
        if vehicle is not None and facts.get("vehicle") != vehicle:
            continue
        complaint, words = standing(connection, str(found_id), str(tree_id))
        if tree is not None and tree not in (tree_id, complaint):
            continue
        yield CaseRow(
            id=CaseId(str(found_id)),
            tree=str(tree_id),
            complaint=complaint,
            title=cut(words, LONGEST_TITLE) or str(facts.get("title") or ""),
            vehicle=str(facts.get("vehicle") or ""),
            status=str(latest or ""),
            opened=str(opened),
            changed=max(map(str, filter(None, (opened, status_at, event_at)))),
            by=None if by is None else str(by),
            events=count,
        )


def cut(text: str, most: int) -> str:
    """Return `text`, cut to `most` letters; where that is too few for the dots too, to its first."""
    return text if len(text) <= most else f"{text[: most - 3].rstrip()}..." if most > 3 else text[: max(0, most)]


def meta(connection: sqlite3.Connection, case_id: CaseId) -> dict[str, Any]:
    """Return what the case was begun with."""
    row = connection.execute("SELECT meta FROM cases WHERE id = ?", (case_id,)).fetchone()
    return (parsed(row[0]) if row else None) or {}


def find(connection: sqlite3.Connection, text: str) -> Iterator[CaseRow]:
    """Give the cases in which every word of `text` occurs: in number, tree, car, owner's data or any event."""
    in_events = {word: _cases_with(connection, word) for word in set(text.casefold().split())}
    for row in rows(connection):
        said = "\n".join(_said(connection, row)).casefold()
        if all(word in said or row.id in cases for word, cases in in_events.items()):
            yield row


def _said(connection: sqlite3.Connection, row: CaseRow) -> Iterator[str]:
    yield from (row.id, row.tree, row.complaint, row.status, row.by or "")
    yield from strings(meta(connection, row.id))
    yield from personal.read(connection, row.id).values()


def _cases_with(connection: sqlite3.Connection, word: str) -> set[str]:
    # SQLite quickly leaves out what cannot fit. Letters beyond ASCII are kept as \uXXXX and may fold to plain ones.
    values: tuple[str, ...] = ()
    query = "SELECT case_id, body FROM events"
    if word.isascii() and word.isprintable() and not set(word) & set(_NOT_AS_TYPED):
        query, values = query + r" WHERE body LIKE ? OR instr(body, '\u')", (f"%{word}%",)
    found: set[str] = set()
    for case_id, body in connection.execute(query, values):
        if case_id not in found and any(word in said.casefold() for said in strings(parsed(body))):
            found.add(case_id)
    return found


def strings(value: object) -> Iterator[str]:
    """Give every text in JSON data, keys left out."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for item in value.values():
            yield from strings(item)
    elif isinstance(value, list):
        for item in value:
            yield from strings(item)
