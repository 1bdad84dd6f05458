"""Files that are no store, and stores that were damaged: a clear word, or the truth; never anything else."""

from __future__ import annotations

import os
import random
from pathlib import Path

import pytest

from diagtree.cases.case_number import CaseId
from diagtree.cases.store import open_store
from diagtree.errors import StoreError

from .helpers import TEXTS, begin, event

JUNK = {
    "text": b"vehicle: petrel-2\nlook: nothing\n" * 50,
    "short": b"xy",
    "zeros": bytes(4096),
    "only the header": b"SQLite format 3\0",
    "header, then junk": b"SQLite format 3\0" + random.Random(7).randbytes(8000),
    "random": random.Random(8).randbytes(10_000),
}


@pytest.mark.parametrize("name", JUNK)
@pytest.mark.parametrize("read_only", [False, True])
def test_a_file_that_is_no_store_is_told_and_left_as_it_is(path: Path, name: str, read_only: bool) -> None:
    path.write_bytes(JUNK[name])
    with pytest.raises(StoreError, match=rf"^case store {path}: the file is (not a case store|damaged)"):
        open_store(path, read_only=read_only)
    assert path.read_bytes() == JUNK[name]


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> tuple[bytes, CaseId, str, list[dict[str, object]]]:
    """The bytes of a store, a case in it, its head and its events."""
    path = tmp_path_factory.mktemp("sound") / "cases.db"
    with open_store(path) as store:
        for number in range(3):
            case_id = begin(store)
            store.append(case_id, 0, [event(n, note=f"case {number}, " + "x" * (n * 17)) for n in range(40)])
        head, events = store.head(case_id), store.events(case_id)
    return path.read_bytes(), case_id, head, events


def damaged(data: bytes, dice: random.Random) -> bytes:
    spoilt = bytearray(data)
    way = dice.randrange(4)
    if way == 0:  # a few bits
        for _ in range(dice.randint(1, 8)):
            spoilt[dice.randrange(len(spoilt))] ^= 1 << dice.randrange(8)
    elif way == 1:  # a block of the disk
        start = dice.randrange(len(spoilt))
        length = dice.choice([16, 512, 4096])
        spoilt[start : start + length] = dice.choice([bytes(length), dice.randbytes(length)])
    elif way == 2:  # cut short
        del spoilt[dice.randrange(1, len(spoilt)) :]
    else:  # two pages changed about
        one, other = (4096 * dice.randrange(len(spoilt) // 4096) for _ in range(2))
        spoilt[one : one + 4096], spoilt[other : other + 4096] = (
            spoilt[other : other + 4096],
            spoilt[one : one + 4096],
        )
    return bytes(spoilt)


def test_a_damaged_store_says_so_or_still_tells_the_truth(
    tmp_path: Path, sound: tuple[bytes, CaseId, str, list[dict[str, object]]]
) -> None:
    data, case_id, head, events = sound
    seed = random.randrange(2**32)
    dice = random.Random(seed)
    found = 0
    for number in range(600):
        path = tmp_path / f"{number}.db"
        path.write_bytes(damaged(data, dice))
        told = None
        try:
            with open_store(path, read_only=bool(number % 2)) as store:
                store.cases()
                store.find("case")
                told = store.verify(case_id, head)
                if told is None:  # then nothing that matters was hit
                    assert store.events(case_id) == events, (seed, number)
                    assert store.knowledge(case_id) == TEXTS, (seed, number)
        except StoreError as error:
            told = str(error)
            assert str(path) in told or case_id in told, (seed, number)
        found += told is not None
        for file in tmp_path.iterdir():
            os.remove(file)
    assert found > 100


def test_a_damaged_event_is_named_when_the_case_is_read(
    path: Path, sound: tuple[bytes, CaseId, str, list[dict[str, object]]]
) -> None:
    data, case_id, _, _ = sound
    text = b'"note":"case 2, ' + b"x" * 17 + b'"'
    assert data.count(text) == 1
    path.write_bytes(data.replace(text, b'"note" "case 2, ' + b"x" * 17 + b'"'))
    with open_store(path) as store:
        with pytest.raises(StoreError, match=rf"case {case_id}: event number 1 is missing or damaged"):
            store.events(case_id)
        breach = store.verify(case_id)
        assert breach is not None
        assert breach.seq == 1
        assert len(store.cases()) == 3  # the other cases are not hidden by it
