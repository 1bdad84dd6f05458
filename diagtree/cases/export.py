"""A whole case as plain data, to be written to a file or read by another program."""

from __future__ import annotations

import sqlite3
from typing import Any

from diagtree.cases import journal, knowledge_text
from diagtree.cases.case_number import CaseId
from diagtree.cases.chain import parsed


def export(connection: sqlite3.Connection, case_id: CaseId, *, texts: bool = False) -> dict[str, Any]:
    """Return the case as JSON data: opening, statuses, events with their hashes. The owner's data stays behind.

    texts : the text of the knowledge too, file name to text.
    """
    _, head = journal.head(connection, case_id)
    events = journal.read(connection, case_id)
    query = "SELECT tree, knowledge, opened, by, meta, hash FROM cases WHERE id = ?"
    tree, digest, opened, by, meta, opening = connection.execute(query, (case_id,)).fetchone()
    hashes = connection.execute("SELECT hash FROM events WHERE case_id = ? ORDER BY seq", (case_id,))
    statuses = connection.execute("SELECT status, at, by FROM statuses WHERE case_id = ? ORDER BY number", (case_id,))
    return {
        "format": "diagtree case",
        "version": 1,
        "case": case_id,
        "tree": tree,
        "opened": opened,
        "by": by,
        "meta": parsed(meta) or {},
        "knowledge": {"digest": digest} | ({"texts": knowledge_text.read(connection, digest)} if texts else {}),
        "statuses": [{"status": status, "at": at, "by": who} for status, at, who in statuses],
        "opening_hash": opening,
        "events": [{"hash": known, "event": event} for (known,), event in zip(hashes, events, strict=True)],
        "head": head,
    }
