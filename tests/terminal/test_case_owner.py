"""Whose car it is: kept apart from the record, found, never exported, erased for good."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from diagtree.terminal.main import main

PLATE = "HL 77 PETREL"


@pytest.fixture
def store(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> str:
    """A store with one case that was begun and left."""
    path = tmp_path / "cases.db"
    answers = tmp_path / "answers.yaml"
    answers.write_text("vehicle: petrel-2\nanswers: {}\n", encoding="utf-8")
    main(["--store", str(path), "walk", "slow-ac", "--answers", str(answers)])
    capsys.readouterr()
    return str(path)


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(list(words)) == 0, capsys.readouterr().err
    return capsys.readouterr().out


def test_it_is_kept_found_shown_and_erased(store: str, capsys: pytest.CaptureFixture[str]) -> None:
    owner = ("--store", store, "cases", "owner", "1")
    assert "nothing is kept" in said(capsys, *owner)
    said(capsys, *owner, "--plate", PLATE, "--name", "A Customer")
    assert said(capsys, *owner, "--phone", "none") == f"name: A Customer\nplate: {PLATE}\nphone: none\n"
    assert "0001" in said(capsys, "--store", store, "cases", "find", "PETREL", "customer")
    for command in (("cases", "export", "1"), ("cases", "show", "1"), ("report", "1")):
        assert PLATE not in said(capsys, "--store", store, *command), "it stands in no record"
    assert json.loads(said(capsys, *owner, "--phone", "", "--json"))["owner"] == {"name": "A Customer", "plate": PLATE}
    assert "nothing is kept" in said(capsys, *owner, "--erase")
    assert PLATE.encode() not in Path(store).read_bytes(), "overwritten, not only unlinked"
    assert "0001" not in said(capsys, "--store", store, "cases", "find", "customer")


def test_wrong_use_is_told(store: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--store", store, "cases", "owner", "1", "--erase", "--name", "x"]) == 2
    assert "either erase or keep" in capsys.readouterr().err
    assert main(["--store", store, "cases", "owner", "99", "--name", "x"]) == 2
    assert "there is no case `99`" in capsys.readouterr().err
