"""Is a case still what was written? The chain of hashes is worked out anew and compared."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from typing import Any

from diagtree.cases import knowledge_text
from diagtree.cases.case_number import CaseId
from diagtree.cases.chain import event_hash, opening_hash, parsed
from diagtree.cases.journal import no_such_case
from diagtree.errors import StoreError, WrongUse
from diagtree.records import dataclass

SHORTEST_HEAD = 12  # hexadecimal digits, 48 bits: enough to compare with paper


@dataclass(frozen=True, slots=True)
class Breach:
    """The first thing in a case that is not as it was written."""

    case_id: CaseId
    seq: int | None  # number of the event, from 0; None: not in an event
    what: str


def verify(connection: sqlite3.Connection, case_id: CaseId, printed_head: str | None = None) -> Breach | None:
    """Return the first breach of the case, or None.

    printed_head : the head on a job record, or its first 12 digits or more: shows also that the end was not cut off and
                   the chain not rebuilt. Without it both go unseen: the chain is tamper-evident, not tamper-proof.
    """
    if printed_head is not None and len(printed_head) < SHORTEST_HEAD:
        raise WrongUse(f"head {printed_head!r} is too short to tell; expected at least {SHORTEST_HEAD} digits")
    hashes: list[str] = []
    breach = _opening(connection, case_id, hashes) or _events(connection, case_id, hashes)
    if breach or printed_head is None or any(known.startswith(printed_head.lower()) for known in hashes):
        return breach
    return Breach(case_id, None, f"no event has the printed head {printed_head}: events were cut off or rewritten")


def _opening(connection: sqlite3.Connection, case_id: CaseId, hashes: list[str]) -> Breach | None:
    query = "SELECT tree, knowledge, opened, by, meta, hash FROM cases WHERE id = ?"
    row: tuple[Any, ...] | None = connection.execute(query, (case_id,)).fetchone()
    if row is None:
        raise no_such_case(connection, case_id)
    tree, digest, opened, by, meta, kept = row
    facts = parsed(meta)
    if facts is None or not _holds(kept, opening_hash, case_id, tree, digest, opened, by, facts):
        return Breach(case_id, None, "the opening of the case (tree, knowledge, time, car) is not as it was written")
    try:
        knowledge_text.read(connection, digest)
    except StoreError as error:
        return Breach(case_id, None, f"the knowledge of the case: {error}")
    hashes.append(kept)
    return None


def _events(connection: sqlite3.Connection, case_id: CaseId, hashes: list[str]) -> Breach | None:
    query = "SELECT seq, at, body, hash FROM events WHERE case_id = ? ORDER BY seq"
    for expected, (seq, at, body, kept) in enumerate(connection.execute(query, (case_id,))):
        if seq != expected:
            return Breach(case_id, expected, f"event number {expected} is missing")
        event = parsed(body)
        if event is None or not _holds(kept, event_hash, hashes[-1], seq, at, event):
            return Breach(case_id, seq, f"event number {seq} is not as it was written, or another stood before it")
        hashes.append(kept)
    return None


def _holds(kept: object, hash_of: Callable[..., str], *values: Any) -> bool:
    try:
        return hash_of(*values) == kept
    except WrongUse:  # something that no case could have been written with
        return False
