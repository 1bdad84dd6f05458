"""Which complaint a case stands in, and what the owner says: many begin at the desk and go on in a complaint's tree."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from typing import Any

from diagtree.cases.chain import parsed
from diagtree.knowledge.words import TRIAGE
from diagtree.walk.events import GO_ON, Complained, Decided, Item, Undone

_ITEMS = frozenset(kind.__name__ for kind in Item.__args__)  # what `back` takes back, one each

_HANDED_OVER = f"SELECT EXISTS (SELECT 1 FROM events WHERE case_id = ? AND instr(body, '\"{GO_ON}\"'))"
_EVENTS = "SELECT body FROM events WHERE case_id = ? ORDER BY seq"


def standing(connection: sqlite3.Connection, case_id: str, begun_with: str) -> tuple[str, str]:
    """Return the tree that the case stands in, and for one begun at the desk what the owner says ("" elsewhere).

    The tree is that of the last hand-over that was not taken back.
    """
    if begun_with != TRIAGE and not connection.execute(_HANDED_OVER, (case_id,)).fetchone()[0]:
        return begun_with, ""  # most cases: nothing is read
    items: list[Mapping[str, Any]] = []
    for (body,) in connection.execute(_EVENTS, (case_id,)):
        event = parsed(body) or {}  # a damaged row must not hide the others; `verify` names it
        kind = event.get("type")
        if kind in _ITEMS:
            items.append(event)
        elif kind == Undone.__name__ and isinstance(count := event.get("count"), int):
            del items[max(0, len(items) - count) :]
    decided = [item for item in items if item["type"] == Decided.__name__ and item.get("what") == GO_ON]
    trees = [str(item["key"]) for item in decided if item.get("key")]
    words = [str(item.get("words") or "") for item in items if item["type"] == Complained.__name__]
    return (trees or [begun_with])[-1], " ".join((words or [""])[-1].split()) if begun_with == TRIAGE else ""
