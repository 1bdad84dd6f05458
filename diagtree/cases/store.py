"""The case store: begin a case, add what happened, read it back, list and find.

Whatever a method has returned from is saved and synced to the disk; whatever raises has changed nothing.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

from diagtree.cases import connection as sqlite
from diagtree.cases import journal, knowledge_text, listing, personal, schema
from diagtree.cases.case_number import CaseId, case_id_of, next_number, resolve, year_of
from diagtree.cases.chain import compact, opening_hash
from diagtree.cases.claim import Claims
from diagtree.cases.listing import CaseRow
from diagtree.cases.location import default_store_path, make_ready, refuse_what_is_no_file, store_path
from diagtree.cases.trouble import lacking_right, told_plainly
from diagtree.errors import StoreError, WrongUse

if TYPE_CHECKING:
    from diagtree.cases.verify import Breach

__all__ = ["CaseId", "CaseRow", "CaseStore", "default_store_path", "empty_store", "open_store", "store_is_missing"]


def open_store(named: str | Path | None = None, *, read_only: bool = False) -> CaseStore:
    """Open the case store; create it if it is not there.

    named     : a path, `sqlite:///path`, or None for the user's data folder.
    read_only : change nothing; works on a read-only folder and a full disk too. The file must exist.

    Raises StoreError, saying what to do, where no store can be opened.
    """
    path = store_path(named)
    with told_plainly(path):
        if read_only:
            refuse_what_is_no_file(path)
            return _opened(path, sqlite.connect_read_only(path), read_only=True)
        make_ready(path)
        # Asked first: beside a file that cannot be written SQLite would leave a log that cannot be written either.
        if words := lacking_right(path):
            raise StoreError(f"case store {path}: {words}")
        return _opened(path, sqlite.connect(path), read_only=False)


def empty_store(named: str | Path | None = None) -> CaseStore:
    """Return what to read where no store is: it holds no case, and nothing is made on the disk."""
    path = store_path(named)
    connection = sqlite.connect_nowhere()
    with sqlite.write_transaction(connection):
        schema.upgrade(connection, path)
    return CaseStore(path, connection, warning=None, read_only=True)


def store_is_missing(named: str | Path | None = None) -> bool:
    """Return whether nothing at all is where the store would be."""
    try:
        return not store_path(named).exists()
    except OSError:  # opening it will say what is wrong
        return False


def _opened(path: Path, connection: sqlite3.Connection, *, read_only: bool) -> CaseStore:
    try:
        schema.refuse_foreign(connection, path)  # before anything of a stranger's file is changed
        warning = None
        if read_only:
            schema.refuse_old(connection, path)
        else:
            warning = sqlite.settle_journal(connection, path)
            with sqlite.write_transaction(connection):
                schema.upgrade(connection, path)
            sqlite.try_writing(connection)  # a file that cannot be written is told now, not after the first answer
        return CaseStore(path, connection, warning=warning, read_only=read_only)
    except BaseException:
        connection.close()
        raise


class CaseStore:
    """An open case store. Use it in a `with` statement, from one thread.

    Events are numbered from 0: `seq` of what comes next is how many events the case has.
    """

    def __init__(self, path: Path, connection: sqlite3.Connection, *, warning: str | None, read_only: bool) -> None:
        self.path = path
        self.warning = warning  # to be shown to the user once, or None
        self._connection = connection
        self._read_only = read_only
        self._identity = _identity(path)
        self._claims = Claims(path)

    def begin(
        self, tree: str, texts: Mapping[str, str], meta: Mapping[str, Any], at: str, by: str | None = None
    ) -> CaseId:
        """Open a case with status `open`, and return its number.

        texts : the knowledge as it is now, file name to text; the case keeps it.
        meta  : plain data about the car and the complaint; `title` and `vehicle` of it are shown in lists. Nothing
                personal: it cannot be erased.
        at    : ISO 8601; its year is the case number's. by : who opened it.
        """
        facts, opened = compact(meta), journal.readable(at)
        year, tree = year_of(at), journal.readable(tree)
        who = None if by is None else journal.readable(by)
        with self._writing() as connection:
            digest = knowledge_text.keep(connection, texts)
            number = next_number(connection, year)
            case_id = case_id_of(year, number)
            start = opening_hash(case_id, tree, digest, opened, who, meta)
            values = (case_id, year, number, tree, digest, opened, who, facts, start)
            connection.execute("INSERT INTO cases VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", values)
            self._add_status(case_id, "open", opened, who)
        return case_id

    def append(
        self, case_id: CaseId, seq: int, events: Sequence[Mapping[str, Any]], *, status: str | None = None
    ) -> None:
        """Add events, all or none; `seq` is how many the caller has seen of this case.

        status : what the case is from now on, in the same transaction; its time is the last event's `at`.

        Raises CaseChangedElsewhere if the case has gone on meanwhile: nothing was added, read the case anew.
        """
        at = next((at for at in map(journal.time_of, reversed(events)) if at), None)
        if status is not None and at is None:
            raise WrongUse("a status needs a time: give the last event an `at`")
        with self._writing() as connection:
            journal.append(connection, case_id, seq, events)
            if status is not None and at is not None:
                self._add_status(case_id, status, at, None)

    def set_status(self, case_id: CaseId, status: str, at: str, by: str | None = None) -> None:
        """Record what the case is from now on (`open`, `closed`...). Earlier statuses are kept; the latest counts."""
        with self._writing() as connection:
            journal.head(connection, case_id)
            self._add_status(case_id, status, journal.readable(at), None if by is None else journal.readable(by))

    def events(self, case_id: CaseId) -> list[dict[str, Any]]:
        """Return the case's events in order."""
        with self._reading() as connection:
            return journal.read(connection, case_id)

    def head(self, case_id: CaseId) -> str:
        """Return the hash of the latest event, to be printed on the job record: the anchor of `verify`."""
        with self._reading() as connection:
            return journal.head(connection, case_id)[1]

    def verify(self, case_id: CaseId, printed_head: str | None = None) -> Breach | None:
        """Return the first event that is not as it was written, or None. See `diagtree.cases.verify`."""
        from diagtree.cases.verify import verify  # seldom wanted, like an export

        with self._reading() as connection:
            return verify(connection, case_id, printed_head)

    def digest(self, case_id: CaseId) -> str:
        """Return the digest of the knowledge that the case began with; `knowledge_text.digest_of` makes the same."""
        with self._reading() as connection:
            return _digest(connection, case_id)

    def knowledge(self, case_id: CaseId) -> dict[str, str]:
        """Return the knowledge that the case began with, file name to text."""
        with self._reading() as connection:
            try:
                return knowledge_text.read(connection, _digest(connection, case_id))
            except StoreError as error:
                raise StoreError(f"case {case_id}: {error}; take the store from your backup") from error

    def meta(self, case_id: CaseId) -> dict[str, Any]:
        """Return what the case was begun with."""
        with self._reading() as connection:
            journal.head(connection, case_id)
            return listing.meta(connection, case_id)

    def row(self, case_id: CaseId) -> CaseRow:
        """Return the case as lists show it."""
        with self._reading() as connection:
            journal.head(connection, case_id)
            return next(listing.rows(connection, case_id=case_id))

    def cases(
        self,
        *,
        status: str | None = None,
        tree: str | None = None,
        vehicle: str | None = None,
        since: str | None = None,
        limit: int | None = None,
    ) -> list[CaseRow]:
        """Return the cases that fit all that is given, newest first. since : ISO time, on the opening."""
        with self._reading() as connection:
            rows = list(listing.rows(connection, status=status, tree=tree, vehicle=vehicle, since=since))
        return rows[:limit]

    def find(self, text: str) -> list[CaseRow]:
        """Return the cases in which every word of `text` occurs, the owner's data included, newest first."""
        with self._reading() as connection:
            return list(listing.find(connection, text))

    def resolve(self, typed: str) -> CaseId | None:
        """Return the case meant by `2026-0042`, `2026-42` or `42`, or None."""
        with self._reading() as connection:
            return resolve(connection, typed)

    def export(self, case_id: CaseId, *, texts: bool = False) -> dict[str, Any]:
        """Return the whole case as JSON data, without the owner's."""
        from diagtree.cases.export import export

        with self._reading() as connection:
            return export(connection, case_id, texts=texts)

    def personal(self, case_id: CaseId) -> dict[str, str]:
        """Return the owner's data of the case, empty if none."""
        with self._reading() as connection:
            journal.head(connection, case_id)
            return personal.read(connection, case_id)

    def set_personal(self, case_id: CaseId, data: Mapping[str, str]) -> None:
        """Keep the owner's data (name, plate...) in place of what there was; apart from the events, erasable."""
        with self._writing() as connection:
            journal.head(connection, case_id)
            personal.replace(connection, case_id, data)

    def erase_personal(self, case_id: CaseId) -> bool:
        """Erase the owner's data, overwriting it in the file.

        False if another program is reading: then the last traces go when that program closes the store.
        """
        self.set_personal(case_id, {})
        with told_plainly(self.path):
            return personal.wipe_log(self._connection)

    def claim(self, case_id: CaseId) -> bool:
        """Tell other windows that this process has the case open, until `close`; False if another has it already."""
        return self._claims.take(case_id)

    def close(self) -> None:
        """Close the store. Nothing is pending: every answer was saved when it was given."""
        self._claims.close()
        with told_plainly(self.path):
            self._connection.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        if self._read_only:
            raise StoreError(f"case store {self.path}: opened for reading only")
        if _identity(self.path) != self._identity:
            raise StoreError(
                f"case store {self.path}: the file was moved, replaced or deleted while it was in use; this entry was "
                "not saved: put the file back, or close and open the store anew"
            )
        with told_plainly(self.path), sqlite.write_transaction(self._connection):
            yield self._connection

    @contextmanager
    def _reading(self) -> Iterator[sqlite3.Connection]:
        with told_plainly(self.path), sqlite.read_transaction(self._connection):
            yield self._connection

    def _add_status(self, case_id: CaseId, status: str, at: str, by: str | None) -> None:
        if not status.strip():
            raise WrongUse("a status needs a word, for example `closed`")
        count = "SELECT COUNT(*) FROM statuses WHERE case_id = ?"
        (number,) = self._connection.execute(count, (case_id,)).fetchone()
        self._connection.execute("INSERT INTO statuses VALUES (?, ?, ?, ?, ?)", (case_id, number, status, at, by))


def _digest(connection: sqlite3.Connection, case_id: CaseId) -> str:
    journal.head(connection, case_id)  # complains if there is no such case
    return str(connection.execute("SELECT knowledge FROM cases WHERE id = ?", (case_id,)).fetchone()[0])


def _identity(path: Path) -> tuple[int, int] | None:
    try:
        found = os.stat(path)
    except OSError:
        return None
    return found.st_dev, found.st_ino
