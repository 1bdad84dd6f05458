"""A case that was tampered with is found out, as far as a chain of hashes can."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from diagtree.cases.case_number import CaseId
from diagtree.cases.chain import canonical, event_hash
from diagtree.cases.store import open_store
from diagtree.errors import StoreError, WrongUse

from .helpers import begin, event

TABLES = {"texts": "digest", "text_sets": "digest", "cases": "id", "events": "body", "statuses": "status"}


@pytest.fixture
def case_id(path: Path) -> CaseId:
    with open_store(path) as store:
        case_id = begin(store)
        store.append(case_id, 0, [event(n) for n in range(5)])
    return case_id


def tamper(path: Path, *statements: str, triggers: bool = False) -> None:
    """Run statements on the file as its owner could, by default after taking the triggers off."""
    with closing(sqlite3.connect(path)) as connection, connection:
        if not triggers:
            for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
                connection.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            connection.execute(statement)


def test_canonical_json_is_the_same_for_equal_data() -> None:
    assert canonical({"b": [1, 1.5, "Ω"], "a": None}) == '{"a":null,"b":[1,1.5,"\\u03a9"]}'
    assert canonical({"b": 1, "a": 2}) == canonical({"a": 2, "b": 1})
    assert canonical({"x": 1}) != canonical({"x": 1.0})


def test_the_chain_can_be_worked_out_by_hand(path: Path, case_id: CaseId) -> None:
    """With nothing but SHA-256 and the exported data, so that a court's expert needs no diagtree."""
    with open_store(path) as store:
        exported = store.export(case_id)
    previous = exported["opening_hash"]
    for seq, entry in enumerate(exported["events"]):
        body = json.dumps(entry["event"], sort_keys=True, separators=(",", ":"))
        previous = hashlib.sha256(f'["{previous}",{seq},"{entry["event"]["at"]}",{body}]'.encode()).hexdigest()
        assert entry["hash"] == previous
    assert exported["head"] == previous


@pytest.mark.parametrize("table", TABLES)
@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM {table}",
        "UPDATE {table} SET {column} = 'x'",
        "INSERT OR REPLACE INTO {table} SELECT * FROM {table}",
    ],
)
def test_rows_can_only_be_added(path: Path, case_id: CaseId, table: str, statement: str) -> None:
    with pytest.raises(sqlite3.IntegrityError, match=f"{table} can only be added to|events are numbered without a gap"):
        tamper(path, statement.format(table=table, column=TABLES[table]), triggers=True)
    with open_store(path) as store:
        assert store.verify(case_id) is None


def test_no_other_program_can_leave_a_gap(path: Path, case_id: CaseId) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="events are numbered without a gap"):
        tamper(path, f"INSERT INTO events VALUES ('{case_id}', 6, NULL, '{{}}', 'x')", triggers=True)


@pytest.mark.parametrize(
    ("statement", "seq", "what"),
    [
        ("UPDATE events SET body = replace(body, '\"n\":2', '\"n\":7') WHERE seq = 2", 2, "event number 2 is not"),
        ("UPDATE events SET at = '2020-01-01T00:00:00' WHERE seq = 3", 3, "event number 3 is not as it was written"),
        ("UPDATE events SET hash = 'x' WHERE seq = 1", 1, "event number 1 is not as it was written"),
        ("UPDATE events SET body = x'00ff' WHERE seq = 4", 4, "event number 4 is not as it was written"),
        ("DELETE FROM events WHERE seq = 2", 2, "event number 2 is missing"),
        ("DELETE FROM events WHERE seq = 0", 0, "event number 0 is missing"),
        ("UPDATE events SET seq = 9 WHERE seq = 4", 4, "event number 4 is missing"),
        ("UPDATE events SET body = (SELECT body FROM events WHERE seq = 0) WHERE seq = 1", 1, "event number 1 is not"),
        ("UPDATE cases SET meta = '{\"vehicle\":\"marlin-1\"}'", None, "the opening of the case"),
        ("UPDATE cases SET tree = 'other'", None, "the opening of the case"),
        ("UPDATE cases SET opened = '2020-01-01T00:00:00'", None, "the opening of the case"),
        ("UPDATE texts SET packed = x'00'", None, "the knowledge of the case: the kept text of"),
        ("DELETE FROM texts", None, "the knowledge of the case: the kept text of"),
        ("UPDATE text_sets SET files = '{}'", None, "the knowledge of the case: the list of knowledge files"),
    ],
)
def test_the_first_thing_that_was_changed_is_named(
    path: Path, case_id: CaseId, statement: str, seq: int | None, what: str
) -> None:
    tamper(path, statement)
    with open_store(path) as store:
        breach = store.verify(case_id)
    assert breach is not None
    assert (breach.case_id, breach.seq) == (case_id, seq)
    assert breach.what.startswith(what)


def test_reading_a_case_with_a_missing_event_is_told_by_number(path: Path, case_id: CaseId) -> None:
    tamper(path, "DELETE FROM events WHERE seq = 2")
    with open_store(path) as store, pytest.raises(StoreError, match="event number 2 is missing or damaged"):
        store.events(case_id)


def test_spoilt_knowledge_is_told_and_never_handed_out(path: Path, case_id: CaseId) -> None:
    tamper(path, "UPDATE texts SET packed = x'00'")
    with open_store(path) as store, pytest.raises(StoreError, match=rf"case {case_id}: the kept text of .* is missing"):
        store.knowledge(case_id)


def test_a_printed_head_stays_good_while_the_case_goes_on(path: Path, case_id: CaseId) -> None:
    with open_store(path) as store:
        printed = store.head(case_id)
        store.append(case_id, 5, [event(5)])
        assert store.verify(case_id, printed) is None
        assert store.verify(case_id, printed[:12].upper()) is None
        with pytest.raises(WrongUse, match="too short to tell"):
            store.verify(case_id, printed[:11])


def test_cutting_off_the_end_shows_only_against_the_printed_head(path: Path, case_id: CaseId) -> None:
    with open_store(path) as store:
        printed = store.head(case_id)
    tamper(path, "DELETE FROM events WHERE seq = 4")
    with open_store(path) as store:
        assert store.verify(case_id) is None  # evident only by the paper: this is the limit of a chain
        breach = store.verify(case_id, printed)
    assert breach is not None
    assert breach.what == f"no event has the printed head {printed}: events were cut off or rewritten"


def test_a_chain_made_anew_shows_only_against_the_printed_head(path: Path, case_id: CaseId) -> None:
    with open_store(path) as store:
        printed = store.head(case_id)
        exported = store.export(case_id)
    statements, previous = [], exported["opening_hash"]
    for seq, entry in enumerate(exported["events"]):
        event_now = entry["event"] | {"n": 0}
        body = canonical(event_now)
        previous = event_hash(previous, seq, entry["event"]["at"], event_now)
        statements.append(f"UPDATE events SET body = '{body}', hash = '{previous}' WHERE seq = {seq}")
    tamper(path, *statements)
    with open_store(path) as store:
        assert store.verify(case_id) is None
        assert store.verify(case_id, printed) is not None
