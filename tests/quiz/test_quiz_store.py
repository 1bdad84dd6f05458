"""The quiz's file: kept through kills, apart from the cases, told when damaged, never destroyed."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from diagtree.cases.quiz_store import open_quiz, quiz_path
from diagtree.cases.store import default_store_path, open_store
from diagtree.errors import CaseChangedElsewhere, StoreError, WrongUse

AT = "2026-03-02T08:00:00+00:00"
CHILD = Path(__file__).parent / "children" / "play_for_ever.py"
ROOT = Path(__file__).parents[2]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "quiz.db"


def test_what_was_saved_is_there_after_the_death_of_the_process(path: Path) -> None:
    dice = random.Random(4)
    for _ in range(12):
        command = [sys.executable, "-S", str(CHILD), str(path)]
        environment = os.environ | {"PYTHONPATH": str(ROOT)}
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as child:
            assert child.stdout is not None
            number = int(child.stdout.readline().split()[1])
            time.sleep(dice.uniform(0, 0.05))
            os.kill(child.pid, signal.SIGKILL)
            told = len(child.stdout.read().splitlines())
        with open_quiz(path) as store:
            events = store.events(number)
            assert told + 1 <= len(events) <= told + 2  # one more may have been saved and not yet told
            assert [event["n"] for event in events] == list(range(len(events)))
            store.append(number, len(events), [{"type": "act"}], ended=AT, summary={"points": 3})


def test_a_round_and_its_end_are_read_back(path: Path) -> None:
    with open_quiz(path) as store:
        number = store.begin("  anna  k ", "reading", "7", AT, [{"type": "a"}])
        store.append(number, 1, [{"type": "b"}], ended=AT, summary={"points": 50.0, "decided": [["pilot", True]]})
        other = store.begin("ben", "safety", "8", AT, [{"type": "a"}])
    with open_quiz(path) as store:
        (row,) = store.rounds("anna k")
        assert (row.id, row.mode, row.seed, row.ended) == (number, "reading", "7", AT)
        assert row.summary == {"points": 50.0, "decided": [["pilot", True]]}
        assert [event["type"] for event in store.events(number)] == ["a", "b"]
        assert [one.id for one in store.rounds("ben")] == [other]
        assert store.trainees() == ["anna k", "ben"]


def test_two_windows_do_not_mix(path: Path) -> None:
    with open_quiz(path) as one, open_quiz(path) as two:
        number = one.begin("anna", "reading", "7", AT, [{"type": "a"}])
        two.append(number, 1, [{"type": "b"}])
        with pytest.raises(CaseChangedElsewhere, match="another window"):
            one.append(number, 1, [{"type": "c"}])
        assert [event["type"] for event in one.events(number)] == ["a", "b"]


def test_nothing_is_added_to_a_round_that_is_over(path: Path) -> None:
    with open_quiz(path) as store:
        number = store.begin("anna", "reading", "7", AT, [{"type": "a"}])
        store.append(number, 1, (), ended=AT, summary={})
        with pytest.raises(CaseChangedElsewhere):
            store.append(number, 1, [{"type": "b"}])


@pytest.mark.parametrize("spoil", [slice(0, 100), slice(100, 4096), slice(0, None)], ids=["head", "first page", "all"])
def test_a_damaged_file_is_told_and_left_as_it_is(path: Path, spoil: slice) -> None:
    with open_quiz(path) as store:
        store.begin("anna", "reading", "7", AT, [{"type": "a"}])
    data = bytearray(path.read_bytes())
    data[spoil] = b"\xa5" * len(data[spoil])
    path.write_bytes(data)
    with pytest.raises(StoreError, match=r"quiz file .*--progress") as caught, open_quiz(path) as store:
        store.rounds("anna")
    assert "--store" not in str(caught.value)
    assert path.read_bytes() == bytes(data)


def test_a_damaged_event_is_named(path: Path) -> None:
    with open_quiz(path) as store:
        number = store.begin("anna", "reading", "7", AT, [{"type": "a"}, {"type": "b"}])
    connection = sqlite3.connect(path)
    with connection:
        connection.execute("UPDATE events SET body = '{' WHERE seq = 1")
    connection.close()
    with open_quiz(path) as store, pytest.raises(StoreError, match=rf"event 1 of round {number}.*--new"):
        store.events(number)


def test_a_damaged_end_is_told(path: Path) -> None:
    with open_quiz(path) as store:
        number = store.begin("anna", "reading", "7", AT, [{"type": "a"}])
        store.append(number, 1, (), ended=AT, summary={})
    connection = sqlite3.connect(path)
    with connection:
        connection.execute("UPDATE ends SET summary = '{'")
    connection.close()
    with open_quiz(path) as store, pytest.raises(StoreError, match=f"end of round {number}"):
        store.rounds("anna")


def test_the_workshops_cases_are_no_quiz_file_and_stay_as_they_are(tmp_path: Path) -> None:
    cases = tmp_path / "cases.db"
    with open_store(cases) as store:
        store.begin("tree", {}, {}, AT, None)
    before = cases.read_bytes()
    with pytest.raises(StoreError, match="another program"):
        open_quiz(cases)
    assert cases.read_bytes() == before


def test_a_quiz_file_is_no_case_store(path: Path) -> None:
    with open_quiz(path) as store:
        store.begin("anna", "reading", "7", AT, [{"type": "a"}])
    with pytest.raises(StoreError, match="another program"):
        open_store(path)


def test_the_default_place_is_beside_the_cases_and_apart_from_them(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path))
    assert quiz_path().name == "quiz.db"
    assert quiz_path() != default_store_path()
    assert not quiz_path().exists()


@pytest.mark.parametrize("name", ["", "   ", "x" * 61, "\n"])
def test_a_name_that_is_none_is_refused(path: Path, name: str) -> None:
    with open_quiz(path) as store, pytest.raises(WrongUse, match="--trainee"):
        store.begin(name, "reading", "7", AT, [])
