"""A process may be killed at any instant: what it had saved is there."""

from __future__ import annotations

import random
import signal
import subprocess
import time
from pathlib import Path

from diagtree.cases.store import open_store

from .helpers import begin, child

KILLS = 200
PER_CASE = 20  # a new case now and then, so that reading it back stays quick
EVERY = 25


def killed(path: Path, case_id: str, dice: random.Random) -> list[str]:
    """Kill a writer at a random instant and return the lines that it had printed in full."""
    process = child("append_for_ever.py", path, case_id, EVERY)
    assert process.stdout is not None
    lines = []
    if dice.random() < 0.8:  # else while it starts and opens the store
        lines.append(process.stdout.readline())
    time.sleep(dice.uniform(0, 0.03))
    process.send_signal(signal.SIGKILL)
    lines += process.stdout.readlines()
    process.wait()
    assert process.returncode == -signal.SIGKILL, "the writer ended by itself"
    return [line.rstrip("\n") for line in lines if line.endswith("\n")]


def test_nothing_that_was_saved_is_lost_in_200_kills(path: Path) -> None:
    seed = random.randrange(2**32)
    dice = random.Random(seed)
    told, with_events = 0, 0
    for kill in range(KILLS):
        if kill % PER_CASE == 0:
            with open_store(path) as store:
                case_id = begin(store)
            known = 0
        lines = killed(path, case_id, dice)
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
        with_events += bool(numbers)
    # The test means something only if most kills hit a process that was at work.
    assert with_events > KILLS / 2
    assert told > KILLS


def test_a_store_killed_while_it_is_made_can_be_opened(tmp_path: Path) -> None:
    dice = random.Random()
    for kill in range(15):
        path = tmp_path / f"{kill}.db"
        process = child("append_for_ever.py", path, "2026-0001", EVERY, stderr=subprocess.DEVNULL)
        deadline = time.monotonic() + 10
        while not path.exists() and time.monotonic() < deadline:
            time.sleep(0.0002)
        time.sleep(dice.uniform(0, 0.006))
        process.kill()
        process.communicate()
        with open_store(path) as store:
            assert store.events(begin(store)) == []
