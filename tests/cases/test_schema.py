"""The tables are brought up to date by named steps, all of them or none."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from diagtree.cases import schema
from diagtree.cases.store import open_store
from diagtree.errors import StoreError

from .helpers import begin, event


def test_a_store_of_an_older_diagtree_is_upgraded_once_and_keeps_its_cases(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_store(path) as store:
        case_id = begin(store)
        store.append(case_id, 0, [event(0)])
    more = (("later", ("CREATE TABLE later (x INTEGER)", "INSERT INTO later VALUES (1)")),)
    monkeypatch.setattr(schema, "UPGRADES", schema.UPGRADES + more)
    with pytest.raises(StoreError, match="open it once where it can be written"):
        open_store(path, read_only=True)
    for _ in range(2):
        with open_store(path) as store:
            assert store._connection.execute("SELECT COUNT(*) FROM later").fetchone() == (1,)
            assert store.events(case_id) == [event(0)]


def test_an_upgrade_that_fails_leaves_the_store_as_it_was(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with open_store(path) as store:
        case_id = begin(store)
    spoilt = (("spoilt", ("CREATE TABLE half (x INTEGER)", "INSERT INTO nowhere VALUES (1)")),)
    monkeypatch.setattr(schema, "UPGRADES", schema.UPGRADES + spoilt)
    with pytest.raises(StoreError):
        open_store(path)
    monkeypatch.undo()
    with open_store(path) as store:
        assert store.events(case_id) == []
        tables = {name for (name,) in store._connection.execute("SELECT name FROM sqlite_master")}
        assert "half" not in tables


def test_upgrades_have_names_of_their_own() -> None:
    names = [name for name, _ in schema.UPGRADES]
    assert len(names) == len(set(names))
    assert names[0] == "first-tables"  # shipped steps stay where they are


class _MadeMeanwhile:
    """A connection to an empty file; after its first question another process makes the store there."""

    def __init__(self, path: Path) -> None:
        self._real, self._path, self._made = sqlite3.connect(path), path, False

    def execute(self, statement: str) -> sqlite3.Cursor:
        answer = self._real.execute(statement)
        if not self._made:
            self._made = True
            answer = _Kept(answer.fetchone())  # type: ignore[assignment]
            open_store(self._path).close()
        return answer


class _Kept:
    def __init__(self, row: tuple[int]) -> None:
        self._row = row

    def fetchone(self) -> tuple[int]:
        return self._row


def test_a_store_that_another_process_makes_meanwhile_is_no_strangers_file(tmp_path: Path) -> None:
    path = tmp_path / "cases.db"
    schema.refuse_foreign(_MadeMeanwhile(path), path)  # type: ignore[arg-type]
