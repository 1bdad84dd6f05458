"""What SQLite complains of, in plain words: what is the matter with which file, and what to do."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from diagtree.errors import StoreError

_INTACT = "what was saved before is intact"
_DAMAGED = "put it aside, do not delete it, and take a copy from your backup or name another with --store"

# Result codes: https://sqlite.org/rescode.html
_WORDS = {
    sqlite3.SQLITE_READONLY: "it is read-only here; make it writable or name another with --store; " + _INTACT,
    sqlite3.SQLITE_CANTOPEN: "cannot be opened or created; see whether the disk is full, or name another place with "
    "--store; " + _INTACT,
    sqlite3.SQLITE_PERM: "this user may not write it; ask for the right or name another with --store; " + _INTACT,
    sqlite3.SQLITE_FULL: "the disk is full; free some space and go on; " + _INTACT,
    sqlite3.SQLITE_IOERR: "the disk refuses to read or write (full, over quota, unplugged or failing); see to the disk "
    "and go on; " + _INTACT,
    sqlite3.SQLITE_BUSY: "locked by another program for more than 5 seconds; close it or wait, then try again; "
    + _INTACT,
    sqlite3.SQLITE_LOCKED: "locked within this program; try again; " + _INTACT,
    sqlite3.SQLITE_CORRUPT: "the file is damaged; " + _DAMAGED,
    sqlite3.SQLITE_NOTADB: "the file is not a case store; name another with --store",
    sqlite3.SQLITE_NOMEM: "out of memory; close other programs and try again; " + _INTACT,
    sqlite3.SQLITE_TOOBIG: "an entry is larger than SQLite can keep; " + _INTACT,
}


@contextmanager
def told_plainly(path: Path) -> Iterator[None]:
    """Turn every SQLite error inside into a StoreError about the store at `path`."""
    try:
        yield
    except sqlite3.Error as error:
        raise StoreError(f"case store {path}: {explain(error, path)}") from error
    except UnicodeDecodeError as error:  # SQLite's own complaint quotes damaged names, which need not be text
        raise StoreError(f"case store {path}: the file is damaged; {_DAMAGED}") from error


def explain(error: sqlite3.Error, path: Path) -> str:
    """Return what is the matter and what to do."""
    code = getattr(error, "sqlite_errorcode", None)  # absent where Python itself complains
    if code is None:
        return f"the file is damaged ({error}); {_DAMAGED}"
    if code & 0xFF in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY) and (words := lacking_right(path)):
        return words
    if words := _WORDS.get(code & 0xFF):
        return words
    if code == sqlite3.SQLITE_ERROR:  # a table or column that should be there is not, or its definition is spoilt
        return f"the file is damaged or was changed by another program ({error}); {_DAMAGED}"
    return f"SQLite says {error} ({getattr(error, 'sqlite_errorname', code)}); {_INTACT}"


def lacking_right(path: Path) -> str | None:
    """Return what this user may not do that writing the store needs, and what to do about it; None: nothing known."""
    folder = path.parent
    if not folder.is_dir():
        return f"there is no folder {folder}; name another place with --store"
    if path.exists() and not os.access(path, os.R_OK):
        return f"this user may not read the file; ask for the right or name another with --store; {_INTACT}"
    if path.exists() and not os.access(path, os.W_OK):
        return _WORDS[sqlite3.SQLITE_READONLY]
    if not os.access(folder, os.W_OK):  # SQLite must write its log beside the file
        return f"the folder {folder} cannot be written; make it writable or name another place with --store; {_INTACT}"
    for beside in (path.with_name(f"{path.name}{ending}") for ending in ("-wal", "-shm")):
        if beside.exists() and not os.access(beside, os.W_OK):  # left there by another user
            return f"the file {beside.name} beside it cannot be written; make it writable, do not delete it; {_INTACT}"
    return None
