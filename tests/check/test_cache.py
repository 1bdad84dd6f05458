"""What was found before: taken for the same content, for nothing else, and never in the way."""

from __future__ import annotations

import multiprocessing
import os
from pathlib import Path

import pytest

from diagtree.check.example import BASE
from diagtree.knowledge.place import Finding, Level, Place
from diagtree.terminal import check_cache, check_targets
from diagtree.terminal.check_cache import MOST, keep, kept, key_of
from diagtree.terminal.check_targets import Looked, Target, Wish, look
from diagtree.terminal.main import main

FOUND = (
    Finding("loop", Level.ERROR, Place("trees/é.yaml", 3, 4), "a loop", "answers:\n  a: yes\n"),
    Finding("x", Level.REMARK, Place("b.yaml"), "a remark"),
)
KEY = "0" * 64


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(check_cache, "cache_folder", lambda: tmp_path / "cache")


@pytest.fixture
def house(tmp_path: Path) -> Path:
    for name, text in BASE.items():
        (tmp_path / "house" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "house" / name).write_text(text, "utf-8")
    return tmp_path / "house"


@pytest.fixture
def runs(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Count how often the knowledge is really looked at."""
    seen: list[str] = []
    real = check_targets._checked

    def counted(texts: dict[str, str], folder: str, worth: bool) -> tuple[Finding, ...]:
        seen.append(folder)
        return real(texts, folder, worth)

    monkeypatch.setattr(check_targets, "_checked", counted)
    return seen


def looked(folder: Path, *, worth: bool = False, cached: bool = True) -> Looked:
    return look(Target(folder), Wish(worth), cached=cached)


def test_what_is_kept_comes_back(tmp_path: Path) -> None:
    keep(KEY, FOUND)
    assert kept(KEY) == FOUND
    assert kept("1" * 64) is None


def test_an_unchanged_folder_is_not_looked_at_again(house: Path, runs: list[str]) -> None:
    assert looked(house) == looked(house)
    assert len(runs) == 1


@pytest.mark.parametrize("name", list(BASE))
def test_a_changed_file_is_looked_at(name: str, house: Path, runs: list[str]) -> None:
    looked(house)
    (house / name).write_text(BASE[name] + "# a remark\n", "utf-8")
    looked(house)
    assert len(runs) == 2
    (house / name).write_text(BASE[name], "utf-8")
    looked(house)
    assert len(runs) == 2, "the first content is known still"


def test_a_new_name_is_another_content(house: Path, runs: list[str]) -> None:
    looked(house)
    (house / "catalogue" / "catalogue.yaml").rename(house / "catalogue" / "all.yaml")
    looked(house)
    assert len(runs) == 2


def test_what_was_asked_for_decides(house: Path, runs: list[str]) -> None:
    looked(house)
    looked(house, worth=True)
    assert len(runs) == 2
    looked(house, cached=False)
    assert len(runs) == 3


def test_another_program_looks_again(house: Path, runs: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    looked(house)
    monkeypatch.setattr(check_cache, "sources", lambda: "another")
    looked(house)
    assert len(runs) == 2


def test_a_changed_source_of_the_program_is_another_program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "package"
    (package / "check" / "rules").mkdir(parents=True)
    (package / "__init__.py").write_text("", "utf-8")
    rule = package / "check" / "rules" / "one.py"
    rule.write_text("a", "utf-8")
    monkeypatch.setattr(check_cache.diagtree, "__file__", str(package / "__init__.py"))
    before = check_cache.sources()
    assert check_cache.sources() == before
    rule.write_text("ab", "utf-8")
    assert check_cache.sources() != before


@pytest.mark.parametrize(
    "spoilt",
    [b"", b"{", b"[]]", b"\xff\xff", b"[1]", b'[["a","error","f",1,1,"m"]]', b'[["a","no-level","f",1,1,"m",null]]',
     b'[["a","error","f","1",1,"m",null]]', b"null", b"{}" * 3],
)  # fmt: skip
def test_a_spoilt_entry_is_passed_over(spoilt: bytes, house: Path, runs: list[str], tmp_path: Path) -> None:
    first = looked(house)
    (entry,) = (tmp_path / "cache").iterdir()
    entry.write_bytes(spoilt)
    assert looked(house) == first
    assert len(runs) == 2
    assert looked(house) == first
    assert len(runs) == 2, "the spoilt entry was written anew"


def test_a_folder_that_cannot_be_written_is_no_matter(house: Path, tmp_path: Path) -> None:
    (tmp_path / "cache").write_text("a file where the folder should be", "utf-8")
    assert looked(house).findings == ()
    assert looked(house).findings == ()


def test_the_folder_may_be_deleted_at_any_time(house: Path, runs: list[str], tmp_path: Path) -> None:
    import shutil

    looked(house)
    shutil.rmtree(tmp_path / "cache")
    looked(house)
    assert len(runs) == 2


def test_the_oldest_entries_go_first(tmp_path: Path) -> None:
    for number in range(MOST + 20):
        keep(f"{number:064d}", FOUND)
        os.utime(tmp_path / "cache" / f"{number:064d}.json", (number, number))
    assert len(list((tmp_path / "cache").iterdir())) <= MOST
    assert kept(f"{MOST + 19:064d}") == FOUND
    assert kept(f"{0:064d}") is None


def _write_often(folder: Path, number: int) -> None:
    found = (Finding("x", Level.ERROR, Place("a.yaml", number, 1), "m" * 50_000),)
    for _ in range(100):
        keep(KEY, found, folder)


def test_several_writers_leave_a_whole_entry(tmp_path: Path) -> None:
    context = multiprocessing.get_context("fork")
    writers = [context.Process(target=_write_often, args=(tmp_path / "shared", number)) for number in range(1, 5)]
    for writer in writers:
        writer.start()
    seen = 0
    while any(writer.is_alive() for writer in writers):
        found = kept(KEY, tmp_path / "shared")
        if (tmp_path / "shared" / f"{KEY}.json").exists() and found is not None:
            seen += 1
            assert len(found[0].message) == 50_000
    for writer in writers:
        writer.join()
        assert writer.exitcode == 0
    assert seen
    assert [path.name for path in (tmp_path / "shared").iterdir()] == [f"{KEY}.json"], "nothing half-written is left"


def test_the_key_parts_names_from_texts() -> None:
    assert key_of({"a": "bc"}, "", []) != key_of({"ab": "c"}, "", [])
    assert key_of({"a": "b"}, "x/", []) != key_of({"a": "b"}, "y/", [])


def test_the_command_can_do_without(house: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert main(["check", "--no-cache", str(house)]) == 0
    assert not (tmp_path / "cache").exists()
    assert main(["check", str(house)]) == 0
    assert (tmp_path / "cache").exists()
