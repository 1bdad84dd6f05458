"""A connection to the store's file, with the settings that make a saved answer stay saved."""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from diagtree.cases.location import shared_file_system
from diagtree.errors import StoreError

BUSY_SECONDS = 5.0
_OPTIONS = ""  # more of SQLite's URI parameters; tests name a file system without shared memory here

_ALWAYS = (
    "PRAGMA foreign_keys = ON",
    "PRAGMA trusted_schema = OFF",  # a spoilt or hostile file runs nothing
    "PRAGMA cell_size_check = ON",  # damage is found before it is believed
    "PRAGMA secure_delete = ON",  # erased personal data is overwritten, not only unlinked
    "PRAGMA fullfsync = ON",  # macOS: really to the disk; elsewhere without meaning
)


def connect(path: Path) -> sqlite3.Connection:
    """Return a connection that may write and create; transactions are begun by hand."""
    return _connect(f"{path.as_uri()}?mode=rwc{_OPTIONS}")


def connect_nowhere() -> sqlite3.Connection:
    """Return a connection to a store in memory alone, gone when it is closed."""
    return _connect("file::memory:")


def connect_read_only(path: Path) -> sqlite3.Connection:
    """Return a connection that changes nothing, even where the folder cannot be written.

    Raises StoreError where answers still stand in SQLite's log and the log cannot be used: they would be missed.
    """
    if not path.exists():
        raise StoreError(f"case store {path}: there is no such file; name another with --store")
    log = path.with_name(path.name + "-wal")
    has_log = log.exists() and log.stat().st_size > 0
    # Beside a file that cannot be written SQLite would leave a log that cannot be written either.
    if has_log or os.access(path, os.W_OK):
        connection = _connect(f"{path.as_uri()}?mode=ro")
        try:
            connection.execute("SELECT COUNT(*) FROM sqlite_master").fetchone()
            return connection
        except sqlite3.OperationalError as error:
            connection.close()
            if error.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY):
                raise
    if has_log:
        raise StoreError(
            f"case store {path}: the latest answers are in {log.name}, which cannot be used in a read-only folder; "
            "copy both files to a folder that can be written and name the copy with --store"
        )
    return _connect(f"{path.as_uri()}?mode=ro&immutable=1")


def _connect(uri: str) -> sqlite3.Connection:
    connection = sqlite3.connect(uri, uri=True, timeout=BUSY_SECONDS, isolation_level=None)
    try:
        for statement in _ALWAYS:
            connection.execute(statement)
    except BaseException:
        connection.close()
        raise
    return connection


def settle_journal(connection: sqlite3.Connection, path: Path) -> str | None:
    """Choose how SQLite keeps its journal: write-ahead where that is sound, else the older way; always fully synced.

    Returns a warning to show, or None. Source: https://sqlite.org/wal.html, https://sqlite.org/pragma.html#pragma_synchronous
    """
    share = shared_file_system(path)
    mode = _set_journal(connection, "delete" if share else "wal")
    # FULL: in the write-ahead log every commit is synced. EXTRA: as FULL, and the removal of the journal is synced too.
    connection.execute(f"PRAGMA synchronous = {'FULL' if mode == 'wal' else 'EXTRA'}")
    if mode == "wal":
        return None
    place = f"on a {share} file system" if share else "on a file system without shared memory"
    return (
        f"The case store {path} is {place}: each answer is saved, but more slowly; "
        "let one computer at a time use it, or keep it on a local disk."
    )


def _set_journal(connection: sqlite3.Connection, wanted: str) -> str:
    # Changing the mode needs the file alone, and SQLite does not wait for that by itself.
    deadline = time.monotonic() + BUSY_SECONDS
    while True:
        try:
            (mode,) = connection.execute("PRAGMA journal_mode").fetchone()
            if mode != wanted:
                (mode,) = connection.execute(f"PRAGMA journal_mode = {wanted}").fetchone()
            return str(mode)
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY or time.monotonic() > deadline:
                raise
            time.sleep(0.02)


@contextmanager
def write_transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """All of what happens inside is saved and synced when this ends, or nothing of it."""
    # IMMEDIATE: a transaction that begins by reading and then wants to write is refused without waiting.
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        _roll_back(connection)
        raise


def try_writing(connection: sqlite3.Connection) -> None:
    """Raise sqlite3.OperationalError where nothing can be written. Writes nothing."""
    # BEGIN IMMEDIATE alone does not tell: SQLite quietly begins to read where it may not write.
    connection.execute("BEGIN IMMEDIATE")
    try:
        connection.execute("PRAGMA user_version = 0")
    finally:
        _roll_back(connection)


@contextmanager
def read_transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """What is read inside is one state of the store, whatever others write meanwhile."""
    connection.execute("BEGIN")
    try:
        yield
    finally:
        _roll_back(connection)


def _roll_back(connection: sqlite3.Connection) -> None:
    if connection.in_transaction:  # SQLite may have rolled back by itself, and Ctrl-C may come after the commit
        connection.execute("ROLLBACK")
