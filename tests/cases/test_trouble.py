"""Files and disks that will not do: a clear word each time, and the case stays intact."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
from pathlib import Path

import pytest

from diagtree.cases import connection as sqlite
from diagtree.cases.location import shared_kind
from diagtree.cases.store import CaseStore, open_store
from diagtree.errors import StoreError

from .helpers import TEXTS, begin, child, event, without_rights


def filled(path: Path) -> str:
    with open_store(path) as store:
        case_id = begin(store)
        store.append(case_id, 0, [event(0), event(1)])
    return case_id


def assert_intact(path: Path, case_id: str) -> None:
    with open_store(path) as store:
        assert store.events(case_id) == [event(0), event(1)]
        assert store.verify(case_id) is None


def test_a_read_only_file_is_told_when_it_is_opened_and_can_still_be_read(public_folder: Path) -> None:
    path = public_folder / "cases.db"
    case_id = filled(path)
    path.chmod(0o444)
    public_folder.chmod(0o777)
    with without_rights():
        with pytest.raises(StoreError, match=r"cases\.db: it is read-only here; make it writable or name another"):
            open_store(path)
        with open_store(path, read_only=True) as store:
            assert store.events(case_id) == [event(0), event(1)]
            with pytest.raises(StoreError, match="opened for reading only"):
                store.append(case_id, 2, [event(2)])
    assert [file.name for file in public_folder.iterdir()] == ["cases.db"]  # nothing is left in the next user's way
    path.chmod(0o644)
    assert_intact(path, case_id)


def test_where_the_rights_tell_nothing_writing_is_tried_when_the_store_is_opened(
    public_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on shares whose server refuses what the rights shown here allow."""
    path = public_folder / "cases.db"
    filled(path)
    path.chmod(0o444)
    public_folder.chmod(0o777)
    monkeypatch.setattr("diagtree.cases.store.lacking_right", lambda path: None)
    with without_rights(), pytest.raises(StoreError, match="it is read-only here"):
        open_store(path)


def test_a_read_only_folder_is_told_and_can_still_be_read(public_folder: Path) -> None:
    path = public_folder / "cases.db"
    case_id = filled(path)
    path.chmod(0o666)
    public_folder.chmod(0o555)
    with without_rights():
        with pytest.raises(StoreError, match=rf"the folder {public_folder} cannot be written; make it writable"):
            open_store(path)
        with open_store(path, read_only=True) as store:
            assert store.events(case_id) == [event(0), event(1)]
            assert store.verify(case_id) is None
    public_folder.chmod(0o755)
    assert_intact(path, case_id)


def test_a_log_left_by_another_user_is_named(public_folder: Path) -> None:
    """As when the tool was once run by the administrator, and killed."""
    path = public_folder / "cases.db"
    public_folder.chmod(0o777)
    with open_store(path) as store:
        case_id = begin(store)
        store.append(case_id, 0, [event(0), event(1)])
        path.chmod(0o666)
        for ending in ("-wal", "-shm"):
            path.with_name(f"cases.db{ending}").chmod(0o444)
        with without_rights(), pytest.raises(StoreError, match=r"the file cases\.db-wal beside it cannot be written"):
            open_store(path)
        for ending in ("-wal", "-shm"):
            path.with_name(f"cases.db{ending}").chmod(0o644)
    assert_intact(path, case_id)


def test_a_new_store_in_a_read_only_folder_is_told(public_folder: Path) -> None:
    public_folder.chmod(0o555)
    with without_rights():
        with pytest.raises(StoreError, match="cannot be written"):
            open_store(public_folder / "cases.db")
        with pytest.raises(StoreError, match=r"its folder cannot be made \(permission denied\); name another place"):
            open_store(public_folder / "new" / "cases.db")


def test_a_log_with_answers_in_a_read_only_folder_is_not_passed_over(public_folder: Path) -> None:
    """SQLite would read such a store without its log, and the latest answers would silently be missing."""
    source = public_folder / "source.db"
    with open_store(source) as store:
        case_id = begin(store)
        store.append(case_id, 0, [event(0)])
        for suffix in ("", "-wal"):  # as a copy to a stick would take it: without the shared memory
            shutil.copy(f"{source}{suffix}", public_folder / f"copy.db{suffix}")
    copy = public_folder / "copy.db"
    assert Path(f"{copy}-wal").stat().st_size
    public_folder.chmod(0o555)
    with without_rights(), pytest.raises(StoreError, match=r"the latest answers are in copy\.db-wal"):
        open_store(copy, read_only=True)
    public_folder.chmod(0o755)
    with open_store(copy) as store:
        assert store.events(case_id) == [event(0)]


def test_a_file_that_may_not_be_read_is_told(public_folder: Path) -> None:
    path = public_folder / "cases.db"
    case_id = filled(path)
    path.chmod(0o600)
    public_folder.chmod(0o777)
    with without_rights(), pytest.raises(StoreError, match="this user may not read the file"):
        open_store(path)
    assert_intact(path, case_id)


@pytest.mark.parametrize("place", ["/dev/null/cases.db", "/proc/none/cases.db", "/proc/cases.db", "/dev/null"])
def test_places_where_no_file_can_be_are_told(place: str) -> None:
    with pytest.raises(StoreError, match=rf"^case store {place}: .* name another"):
        open_store(place)


def test_a_folder_in_place_of_the_file_is_told(tmp_path: Path) -> None:
    for read_only in (False, True):
        with pytest.raises(StoreError, match=rf"that is a folder; name a file in it, for example {tmp_path}/cases\.db"):
            open_store(tmp_path, read_only=read_only)


def test_reading_a_store_that_is_not_there_is_told_and_makes_none(path: Path) -> None:
    with pytest.raises(StoreError, match="there is no such file"):
        open_store(path, read_only=True)
    assert not path.exists()


def follow(path: Path, case_id: str, *prefix: str, limit: int = 0) -> tuple[int, str, list[str]]:
    """Fill the store until it complains; return events saved, the complaint, and what was read back after it."""
    process = child("fill.py", path, limit, case_id)
    output, _ = process.communicate(timeout=50)
    assert process.returncode == 0
    return understood(output)


def understood(output: str) -> tuple[int, str, list[str]]:
    lines = output.splitlines()
    saved = sum(line.startswith("event ") for line in lines)
    (told,) = [line.removeprefix("told ") for line in lines if line.startswith("told ")]
    return saved, told, [line for line in lines if line.startswith("read ")]


def test_a_file_that_may_not_grow_is_told_and_every_saved_answer_is_there(path: Path) -> None:
    case_id = filled(path)
    saved, told, read = follow(path, case_id, limit=300_000)
    assert saved >= 10
    assert told == (
        f"case store {path}: the disk refuses to read or write (full, over quota, unplugged or failing); see to the "
        "disk and go on; what was saved before is intact"
    )
    assert read == [f"read {2 + saved} None"] * 2
    with open_store(path) as store:  # the disk is seen to
        store.append(case_id, 2 + saved, [event(9)])
        assert store.verify(case_id) is None


def test_a_really_full_disk_is_told_and_every_saved_answer_is_there(tmp_path: Path) -> None:
    """A disk of 400 KiB of its own, in a mount namespace that ends with the process."""
    folder = tmp_path / "disk"
    folder.mkdir()
    path = folder / "cases.db"
    make = f"mount -t tmpfs -o size=400k none {folder}"
    if subprocess.run(["unshare", "-m", "sh", "-c", make], capture_output=True, check=False).returncode:
        pytest.skip("this user may not mount a disk")
    case_id = filled(tmp_path / "cases.db")
    running = child("fill.py", path, 0, case_id)  # only for its command line and environment
    running.kill()
    running.communicate()
    script = f"{make} && cp {tmp_path}/cases.db {path} && exec {' '.join(map(str, running.args))}"
    environment = os.environ | {"PYTHONPATH": str(Path(__file__).parents[2])}
    done = subprocess.run(
        ["unshare", "-m", "sh", "-c", script], env=environment, text=True, capture_output=True, check=True, timeout=50
    )
    saved, told, read = understood(done.stdout)
    assert saved >= 10
    assert told == f"case store {path}: the disk is full; free some space and go on; what was saved before is intact"
    assert read == [f"read {2 + saved} None"] * 2


def test_a_store_that_is_full_takes_nothing_in_half(store: CaseStore) -> None:
    case_id = begin(store)
    (pages,) = store._connection.execute("PRAGMA page_count").fetchone()
    store._connection.execute(f"PRAGMA max_page_count = {pages}")
    with pytest.raises(StoreError, match="the disk is full; free some space and go on; what was saved before is"):
        store.append(case_id, 0, [event(0), event(1, note="x" * 100_000)])
    assert store.events(case_id) == []
    store._connection.execute("PRAGMA max_page_count = 100000")
    store.append(case_id, 0, [event(0), event(1)])
    assert len(store.events(case_id)) == 2


def test_a_file_moved_away_while_in_use_is_told_instead_of_written_into_nothing(store: CaseStore, path: Path) -> None:
    case_id = begin(store)
    moved = path.with_name("moved.db")
    path.rename(moved)
    with pytest.raises(StoreError, match="was moved, replaced or deleted while it was in use; this entry was"):
        store.append(case_id, 0, [event(0)])
    moved.rename(path)
    store.append(case_id, 0, [event(0)])
    assert store.events(case_id) == [event(0)]


def test_without_shared_memory_the_older_journal_is_used_and_a_warning_given(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SQLite's dot-file locking has no shared memory, as on a network share; it then refuses the write-ahead log."""
    monkeypatch.setattr(sqlite, "_OPTIONS", "&vfs=unix-dotfile")
    with open_store(path) as store:
        assert store._connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)
        assert store._connection.execute("PRAGMA synchronous").fetchone() == (3,)  # EXTRA
        assert store.warning is not None
        assert "without shared memory" in store.warning
        case_id = begin(store)
        store.append(case_id, 0, [event(0), event(1)])
        store.set_personal(case_id, {"name": "owner"})
        assert store.erase_personal(case_id) is True
    monkeypatch.undo()
    assert_intact(path, case_id)


def test_on_a_network_share_the_older_journal_is_chosen_also_for_a_store_made_elsewhere(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    case_id = filled(path)
    monkeypatch.setattr(sqlite, "shared_file_system", lambda path: "nfs4")
    with open_store(path) as store:
        assert store._connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)
        assert store.warning == (
            f"The case store {path} is on a nfs4 file system: each answer is saved, but more slowly; "
            "let one computer at a time use it, or keep it on a local disk."
        )
    monkeypatch.undo()
    assert_intact(path, case_id)


def test_on_a_local_disk_every_commit_is_synced_and_no_warning_given(store: CaseStore) -> None:
    assert store._connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    assert store._connection.execute("PRAGMA synchronous").fetchone() == (2,)  # FULL
    assert store.warning is None


MOUNTS = """\
/dev/vda / ext4 rw 0 0
server:/shop /mnt/shop nfs4 rw 0 0
/dev/vdb /mnt/shop/local ext4 rw 0 0
//server/share /mnt/two\\040words cifs rw 0 0
odd line
"""


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("/home/bay", None),
        ("/mnt/shop", "nfs4"),
        ("/mnt/shop/cases", "nfs4"),
        ("/mnt/shopping", None),  # begins alike, lies elsewhere
        ("/mnt/shop/local/cases", None),
        ("/mnt/two words", "cifs"),
    ],
)
def test_the_file_system_is_that_of_the_nearest_mount(folder: str, kind: str | None) -> None:
    assert shared_kind(folder, MOUNTS) == kind


def test_a_database_of_another_program_is_left_as_it_is(path: Path) -> None:
    with sqlite3.connect(path) as foreign:
        foreign.execute("CREATE TABLE recipes (name TEXT)")
    foreign.close()
    before = path.read_bytes()
    for read_only in (False, True):
        with pytest.raises(StoreError, match="a database of another program, left as it is"):
            open_store(path, read_only=read_only)
    assert path.read_bytes() == before


def test_a_store_of_a_newer_diagtree_is_left_as_it_is(path: Path) -> None:
    filled(path)
    with sqlite3.connect(path) as newer:
        newer.execute("INSERT INTO upgrades VALUES ('from-the-future')")
    newer.close()
    for read_only in (False, True):
        with pytest.raises(StoreError, match=r"written by a newer diagtree \(it has had from-the-future\); update"):
            open_store(path, read_only=read_only)


def test_a_store_that_lost_a_table_is_told(path: Path) -> None:
    case_id = filled(path)
    with sqlite3.connect(path) as spoiler:
        spoiler.execute("DROP TABLE events")
    spoiler.close()
    with open_store(path) as store, pytest.raises(StoreError, match="damaged or was changed by another program"):
        store.events(case_id)


def test_an_empty_file_becomes_a_store_but_not_when_only_read(path: Path) -> None:
    path.touch()
    with pytest.raises(StoreError, match="empty, or of an older diagtree"):
        open_store(path, read_only=True)
    case_id = filled(path)
    with open_store(path, read_only=True) as store:
        assert store.knowledge(case_id) == TEXTS
