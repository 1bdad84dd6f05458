"""The tables, as named upgrades that are only ever added to.

Tables of facts are append-only: triggers refuse to change, delete or replace a row. Only `personal` may be changed and
erased. Nothing is kept twice: what a case looks like now is worked out from its rows whenever it is asked for.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path

from diagtree.errors import StoreError

APPLICATION_ID = 0x64744353  # "dtCS", SQLite's own mark in the file's header for what a file is


def _append_only(table: str, key: str) -> tuple[str, ...]:
    # The third: INSERT OR REPLACE deletes a row without asking the delete trigger.
    same = " AND ".join(f"{column} = NEW.{column}" for column in key.split(", "))
    refuse = f"BEGIN SELECT RAISE(ABORT, '{table} can only be added to'); END"
    return (
        f"CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table} {refuse}",
        f"CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} {refuse}",
        f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
        f"WHEN EXISTS (SELECT 1 FROM {table} WHERE {same}) {refuse}",
    )


# Name, and statements. Never change or reorder one that has been shipped: add another.
UPGRADES: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "first-tables",
        (
            "CREATE TABLE texts (digest TEXT PRIMARY KEY, packed BLOB NOT NULL)",
            "CREATE TABLE text_sets (digest TEXT PRIMARY KEY, files TEXT NOT NULL)",
            "CREATE TABLE cases (id TEXT PRIMARY KEY, year INTEGER NOT NULL, number INTEGER NOT NULL, "
            "tree TEXT NOT NULL, knowledge TEXT NOT NULL REFERENCES text_sets (digest), opened TEXT NOT NULL, "
            "by TEXT, meta TEXT NOT NULL, hash TEXT NOT NULL, UNIQUE (year, number))",
            "CREATE TABLE events (case_id TEXT NOT NULL REFERENCES cases (id), seq INTEGER NOT NULL, at TEXT, "
            "body TEXT NOT NULL, hash TEXT NOT NULL, UNIQUE (case_id, seq))",
            "CREATE TABLE statuses (case_id TEXT NOT NULL REFERENCES cases (id), number INTEGER NOT NULL, "
            "status TEXT NOT NULL, at TEXT NOT NULL, by TEXT, UNIQUE (case_id, number))",
            "CREATE TABLE personal (case_id TEXT PRIMARY KEY REFERENCES cases (id), body TEXT NOT NULL)",
            *_append_only("texts", "digest"),
            *_append_only("text_sets", "digest"),
            *_append_only("cases", "id"),
            *_append_only("events", "case_id, seq"),
            *_append_only("statuses", "case_id, number"),
            "CREATE TRIGGER events_no_gap BEFORE INSERT ON events WHEN NEW.seq <> "
            "(SELECT COALESCE(MAX(seq) + 1, 0) FROM events WHERE case_id = NEW.case_id) "
            "BEGIN SELECT RAISE(ABORT, 'events are numbered without a gap'); END",
        ),
    ),
)


def refuse_foreign(connection: sqlite3.Connection, path: Path) -> None:
    """Raise StoreError if the file is somebody else's SQLite database; a new, empty one is welcome."""
    empty = is_empty(connection)  # asked first: another process may make the store between the two questions
    (mark,) = connection.execute("PRAGMA application_id").fetchone()
    if mark != APPLICATION_ID and (mark != 0 or not empty):
        raise StoreError(f"case store {path}: a database of another program, left as it is; name another with --store")


def is_empty(connection: sqlite3.Connection) -> bool:
    """Tell whether the database holds no table at all."""
    (count,) = connection.execute("SELECT COUNT(*) FROM sqlite_master").fetchone()
    return bool(count == 0)


def missing_upgrades(connection: sqlite3.Connection, path: Path) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return the upgrades that the store has not had. Raises StoreError if a newer diagtree has been at it."""
    if is_empty(connection):
        return UPGRADES
    done = {name for (name,) in connection.execute("SELECT name FROM upgrades")}
    if unknown := done - {name for name, _ in UPGRADES}:
        raise StoreError(
            f"case store {path}: written by a newer diagtree (it has had {', '.join(sorted(map(str, unknown)))}); "
            "update diagtree, or name another with --store"
        )
    return tuple((name, statements) for name, statements in UPGRADES if name not in done)


def refuse_old(connection: sqlite3.Connection, path: Path) -> None:
    """Raise StoreError if the store would have to be changed before it can be read."""
    if missing_upgrades(connection, path):
        raise StoreError(f"case store {path}: empty, or of an older diagtree; open it once where it can be written")


def upgrade(connection: sqlite3.Connection, path: Path) -> None:
    """Bring the store to the present tables. The caller holds a write transaction: all of it happens, or nothing."""
    missing = missing_upgrades(connection, path)
    if missing == UPGRADES:
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute("CREATE TABLE IF NOT EXISTS upgrades (name TEXT PRIMARY KEY)")
    for name, statements in missing:
        for statement in statements:
            connection.execute(statement)
        connection.execute("INSERT INTO upgrades (name) VALUES (?)", (name,))
