"""A process may be killed at any instant: what it had saved is there."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from diagtree.cases.store import open_store

from .helpers import begin, child

KILLS = 200
PER_CASE = 20  # a new case now and then, so that reading it back stays quick


class Writers:
    """Real processes that write for ever, one at a time; see `children/append_for_ever.py`."""

    def __init__(self, nursery: subprocess.Popen[str]) -> None:
        assert nursery.stdin is not None
        assert nursery.stdout is not None
        self._orders, self._lines = nursery.stdin, nursery.stdout

    def kill_one(self, path: Path, case_id: str, dice: random.Random, *, early: bool) -> list[str]:
        """Start a writer, kill it at a random instant (early: while it opens the store); return what it printed."""
        print(case_id, path, sep="\t", file=self._orders, flush=True)
        word, number = self._lines.readline().split()
        assert word == "born"
        lines = [] if early else [self._lines.readline()]
        time.sleep(dice.uniform(0, 0.005 if early else 0.03))
        os.kill(int(number), signal.SIGKILL)
        while not (line := self._lines.readline()).startswith("dead "):
            lines.append(line)
        assert line == f"dead {-signal.SIGKILL}\n", "the writer ended by itself"
        return lines


@pytest.fixture
def writers() -> Iterator[Writers]:
    with child("append_for_ever.py", stdin=subprocess.PIPE) as nursery:
        yield Writers(nursery)


def test_nothing_that_was_saved_is_lost_in_200_kills(path: Path, writers: Writers) -> None:
    seed = random.randrange(2**32)
    dice = random.Random(seed)
    told = 0
    for kill in range(KILLS):
        if kill % PER_CASE == 0:
            with open_store(path) as store:
                case_id = begin(store)
            known = 0
        lines = writers.kill_one(path, case_id, dice, early=dice.random() < 0.2)
        numbers = [int(line.split()[1]) for line in lines if line.startswith("event ")]
        cases = [line.split()[1] for line in lines if line.startswith("case ")]
        with open_store(path) as store:
            events = store.events(case_id)
            assert numbers == list(range(known, known + len(numbers))), (seed, kill)
            # One more may have been saved and not yet told.
            assert known + len(numbers) <= len(events) <= known + len(numbers) + 1, (seed, kill)
            assert [event["n"] for event in events] == list(range(len(events))), (seed, kill)
            assert store.verify(case_id) is None, (seed, kill)
            assert all(store.verify(case) is None for case in cases), (seed, kill)
        known = len(events)
        told += len(numbers)
    assert told > KILLS  # the test means something only if the writers were at work


def test_a_store_killed_while_it_is_made_can_be_opened(tmp_path: Path, writers: Writers) -> None:
    dice = random.Random()
    for kill in range(50):
        path = tmp_path / f"{kill}.db"
        lines = writers.kill_one(path, "", dice, early=True)
        with open_store(path) as store:
            saved = sum(line.startswith("event ") for line in lines)
            assert sum(row.events for row in store.cases()) in (saved, saved + 1)
            assert store.events(begin(store)) == []
