"""Several processes at once: nothing is lost, nothing is mixed, and whoever comes second is told."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from diagtree.cases.case_number import CaseId
from diagtree.cases.store import CaseStore, open_store
from diagtree.errors import CaseChangedElsewhere, StoreError

from .helpers import begin, child, event

WRITERS = 8
EACH = 25


def compete(path: Path, case_id: str) -> list[tuple[str, list[int]]]:
    """Let all writers go at once; return the case that each wrote to and the numbers that it was told it had won."""
    running = [child("compete.py", path, case_id, f"w{n}", EACH, stdin=subprocess.PIPE) for n in range(WRITERS)]
    for process in running:
        assert process.stdin is not None
        process.stdin.write("go\n")
        process.stdin.flush()
    results = []
    for process in running:
        output, _ = process.communicate(timeout=50)
        assert process.returncode == 0
        case, *numbers = output.split()
        results.append((case, [int(number) for number in numbers]))
    return results


def test_8_processes_on_8_cases_of_a_store_that_none_has_made_yet(path: Path) -> None:
    results = compete(path, "own")
    assert sorted(case for case, _ in results) == [f"2026-{number:04d}" for number in range(1, WRITERS + 1)]
    with open_store(path) as store:
        for number, (case, won) in enumerate(results):
            assert won == list(range(EACH))
            assert store.events(CaseId(case)) == [{"by": f"w{number}", "n": n} for n in range(EACH)]
            assert store.verify(CaseId(case)) is None
            assert store.knowledge(CaseId(case)) == {"tree.yaml": f"title: w{number}\n"}


def test_8_processes_on_one_case_have_exactly_one_winner_for_each_number(path: Path) -> None:
    with open_store(path) as store:
        case_id = begin(store)
    results = compete(path, case_id)
    assert sorted(number for _, won in results for number in won) == list(range(WRITERS * EACH))
    with open_store(path) as store:
        events = store.events(case_id)
        assert len(events) == WRITERS * EACH
        for name, (_, won) in enumerate(results):
            assert [events[number] for number in won] == [{"by": f"w{name}", "n": n} for n in range(EACH)]
        assert store.verify(case_id) is None


def test_the_second_window_is_told_and_neither_loses_anything(store: CaseStore, path: Path) -> None:
    case_id = begin(store)
    store.append(case_id, 0, [event(0)])
    with open_store(path) as second:
        seen = len(second.events(case_id))
        store.append(case_id, 1, [event(1)])
        with pytest.raises(CaseChangedElsewhere) as told:
            second.append(case_id, seen, [event(1, by="other"), event(2, by="other")])
        assert str(told.value) == (
            f"case {case_id}: somebody else went on with this case in another window (1 new entry); nothing is lost, "
            "but this answer was not added: open the case anew and go on from there"
        )
        assert second.events(case_id) == store.events(case_id) == [event(0), event(1)]
        second.append(case_id, 2, [event(2, by="other")])
        assert store.events(case_id)[2] == event(2, by="other")


def test_a_claimed_case_is_known_to_other_processes_until_the_claimant_dies(store: CaseStore, path: Path) -> None:
    case_id, other = begin(store), begin(store)
    process = child("hold.py", path, "claim", case_id, stdin=subprocess.PIPE)
    assert process.stdout is not None
    assert process.stdout.readline() == "True\n"
    assert store.claim(case_id) is False
    assert store.claim(other) is True
    process.kill()
    process.communicate()
    assert store.claim(case_id) is True
    again = child("hold.py", path, "claim", case_id, stdin=subprocess.PIPE)
    assert again.communicate("\n")[0] == "False\n"
    store.close()
    last = child("hold.py", path, "claim", case_id, stdin=subprocess.PIPE)
    assert last.communicate("\n")[0] == "True\n"


def test_a_store_locked_by_another_program_is_told_after_the_wait(
    store: CaseStore, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    case_id = begin(store)
    assert store._connection.execute("PRAGMA busy_timeout").fetchone() == (5000,)
    store._connection.execute("PRAGMA busy_timeout = 200")  # the test need not wait so long
    process = child("hold.py", path, "lock", stdin=subprocess.PIPE)
    assert process.stdout is not None
    process.stdout.readline()
    with pytest.raises(StoreError, match="locked by another program for more than 5 seconds; close it or wait"):
        store.append(case_id, 0, [event(0)])
    assert store.events(case_id) == []  # reading goes on
    process.communicate("\n")
    store.append(case_id, 0, [event(0)])
    assert store.events(case_id) == [event(0)]
