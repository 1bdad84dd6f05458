"""The quiz's own file: trainees' rounds, apart from the workshop's cases. What the events mean is not known here.

As in the case store: whatever a method has returned from is saved and synced, a process may be killed at any instant,
and a damaged file is told and left as it is. Rounds are practice, not records: no hash chain, no triggers.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from diagtree.cases import connection as sqlite
from diagtree.cases.chain import compact, parsed, whole
from diagtree.cases.location import default_store_path, make_ready, store_path
from diagtree.cases.trouble import lacking_right, told_plainly
from diagtree.errors import CaseChangedElsewhere, StoreError, WrongUse
from diagtree.records import dataclass

APPLICATION_ID = 0x6474515A  # "dtQZ"
_TABLES = (
    "CREATE TABLE rounds (id INTEGER PRIMARY KEY, trainee TEXT NOT NULL, mode TEXT NOT NULL, seed TEXT NOT NULL, "
    "opened TEXT NOT NULL)",
    "CREATE TABLE events (round INTEGER NOT NULL REFERENCES rounds (id), seq INTEGER NOT NULL, body TEXT NOT NULL, "
    "UNIQUE (round, seq))",
    "CREATE TABLE ends (round INTEGER PRIMARY KEY REFERENCES rounds (id), at TEXT NOT NULL, summary TEXT NOT NULL)",
    "CREATE INDEX rounds_by_trainee ON rounds (trainee)",
)


@dataclass(frozen=True, slots=True)
class RoundRow:
    """One round as lists show it. ended : when, None while it runs. summary : what was written at its end."""

    id: int
    trainee: str
    mode: str
    seed: str
    opened: str
    ended: str | None
    summary: Mapping[str, Any]


def quiz_path(named: str | Path | None = None) -> Path:
    """Return the place of the quiz's file: named, or `quiz.db` in the user's data folder. Nothing is created."""
    with _in_quiz_words():
        return default_store_path().with_name("quiz.db") if named is None else store_path(named)


def open_quiz(named: str | Path | None = None) -> QuizStore:
    """Open the quiz's file; create it if it is not there. Raises StoreError, saying what to do."""
    path = quiz_path(named)
    with _in_quiz_words(), told_plainly(path):
        make_ready(path)
        if words := lacking_right(path):
            raise StoreError(f"case store {path}: {words}")
        connection = sqlite.connect(path)
        try:
            _refuse_foreign(connection, path)  # before anything of a stranger's file is changed
            sqlite.settle_journal(connection, path)
            with sqlite.write_transaction(connection):
                _create(connection)
            sqlite.try_writing(connection)
        except BaseException:
            connection.close()
            raise
        return QuizStore(path, connection)


class QuizStore:
    """The open file. Use it in a `with` statement, from one thread."""

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        self.path = path
        self._connection = connection

    def begin(self, trainee: str, mode: str, seed: str, at: str, events: Sequence[Mapping[str, Any]]) -> int:
        """Keep a new round with its first events; return its number."""
        name = tidy_name(trainee)
        with self._writing() as connection:
            cursor = connection.execute(
                "INSERT INTO rounds (trainee, mode, seed, opened) VALUES (?, ?, ?, ?)", (name, mode, seed, at)
            )
            number = int(cursor.lastrowid or 0)
            self._append(connection, number, 0, events)
        return number

    def append(
        self, number: int, seq: int, events: Sequence[Mapping[str, Any]], *, ended: str | None = None,
        summary: Mapping[str, Any] | None = None,
    ) -> None:  # fmt: skip
        """Add events, all or none; `seq` is how many the caller has seen.

        ended : time at which the round is over, with its summary, in the same transaction.
        Raises CaseChangedElsewhere if the round has gone on in another window: nothing was added.
        """
        with self._writing() as connection:
            (count,) = connection.execute("SELECT COUNT(*) FROM events WHERE round = ?", (number,)).fetchone()
            over = connection.execute("SELECT 1 FROM ends WHERE round = ?", (number,)).fetchone()
            if count != seq or over:
                raise CaseChangedElsewhere(
                    f"round {number}: it went on in another window; nothing is lost, but this act was not added: "
                    "begin the quiz anew and go on from there"
                )
            self._append(connection, number, seq, events)
            if ended is not None:
                connection.execute("INSERT INTO ends VALUES (?, ?, ?)", (number, ended, compact(summary or {})))

    def events(self, number: int) -> list[dict[str, Any]]:
        """Return a round's events in order. Raises StoreError, naming the event, where one is missing or no event."""
        with self._reading() as connection:
            rows = connection.execute("SELECT seq, body FROM events WHERE round = ? ORDER BY seq", (number,)).fetchall()
        return whole(
            rows,
            lambda event: f"quiz file {self.path}: event {event} of round {number} is missing or damaged; the round "
            "cannot be gone on with: begin a new one with --new",
        )

    def rounds(self, trainee: str) -> list[RoundRow]:
        """Return a trainee's rounds, oldest first."""
        query = (
            "SELECT rounds.id, trainee, mode, seed, opened, ends.at, ends.summary FROM rounds "
            "LEFT JOIN ends ON ends.round = rounds.id WHERE trainee = ? ORDER BY rounds.id"
        )
        with self._reading() as connection:
            rows = connection.execute(query, (tidy_name(trainee),)).fetchall()
        return [self._row(*row) for row in rows]

    def _row(
        self, number: int, name: str, mode: str, seed: str, opened: str, ended: str | None, body: object
    ) -> RoundRow:
        summary = {} if ended is None else parsed(body)
        if summary is None:
            raise StoreError(
                f"quiz file {self.path}: the end of round {number} is damaged; put the file aside, do not delete it, "
                "and take a copy from your backup or name another with --progress"
            )
        return RoundRow(number, name, mode, seed, opened, ended, summary)

    def trainees(self) -> list[str]:
        """Return everybody who has a round here, by name."""
        with self._reading() as connection:
            return [name for (name,) in connection.execute("SELECT DISTINCT trainee FROM rounds ORDER BY trainee")]

    def close(self) -> None:
        """Close the file. Nothing is pending."""
        with _in_quiz_words(), told_plainly(self.path):
            self._connection.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    @staticmethod
    def _append(connection: sqlite3.Connection, number: int, seq: int, events: Sequence[Mapping[str, Any]]) -> None:
        rows = [(number, place, compact(event)) for place, event in enumerate(events, seq)]
        connection.executemany("INSERT INTO events VALUES (?, ?, ?)", rows)

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        with _in_quiz_words(), told_plainly(self.path), sqlite.write_transaction(self._connection):
            yield self._connection

    @contextmanager
    def _reading(self) -> Iterator[sqlite3.Connection]:
        with _in_quiz_words(), told_plainly(self.path), sqlite.read_transaction(self._connection):
            yield self._connection


def tidy_name(trainee: str) -> str:
    """Return a trainee's name as it is kept: blanks made one. Raises WrongUse for none, or one beyond 60 letters."""
    name = " ".join(trainee.encode("utf-8", "backslashreplace").decode("utf-8").split())
    if not name or len(name) > 60:
        raise WrongUse(f"--trainee {trainee[:70]!r}: expected a name of 1 to 60 letters")
    return name


def _refuse_foreign(connection: sqlite3.Connection, path: Path) -> None:
    (mark,) = connection.execute("PRAGMA application_id").fetchone()
    (tables,) = connection.execute("SELECT COUNT(*) FROM sqlite_master").fetchone()
    if mark != APPLICATION_ID and (mark != 0 or tables):
        raise StoreError(
            f"quiz file {path}: a database of another program, left as it is; name another with --progress"
        )


def _create(connection: sqlite3.Connection) -> None:
    (tables,) = connection.execute("SELECT COUNT(*) FROM sqlite_master").fetchone()
    if tables == 0:
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        for statement in _TABLES:
            connection.execute(statement)


@contextmanager
def _in_quiz_words() -> Iterator[None]:
    """Let what the helpers of the case store complain of name this file and the option that names another."""
    try:
        yield
    except CaseChangedElsewhere:
        raise
    except StoreError as error:
        words = str(error).replace("case store", "quiz file").replace("--store", "--progress")
        raise StoreError(words) from error
