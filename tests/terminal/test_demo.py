"""The demo plays a whole job through session, store and report, quickly, and leaves nothing behind."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from diagtree.terminal.main import main


def test_demo_goes_from_the_first_look_to_a_closed_case_with_its_record(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    for words in ("Look first", "CAUTION: ", "Make safe, step 1 of", "Conclusion", "Proof of the fix", "Hand back",
                  "Harbour Lane Garage", "moved the [brown] lead", "invented job"):  # fmt: skip
        assert words in out
    record = out.rpartition("Hand back, step")[2]
    for words in ("RULED OUT", "absence of voltage measured: PROVEN", "MINUTES AND MONEY", "does not say that the car"):
        assert words in record


def test_demo_begins_at_the_desk_where_there_is_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo"]) == 0
    out, _ = capsys.readouterr()
    desk, _, bay = out.partition("The car goes to the bay.")
    for words in ("Which complaint is it?", "heard in", "Job card, case", "fault outside the car", "on average"):
        assert words in desk
    assert "Before you begin" in bay
    asked = [line for line in out.splitlines() if line.startswith("= ")]
    assert len(asked) == len(set(asked)), "nothing is asked twice"


def test_demo_keeps_its_case_to_itself(tmp_path: Path) -> None:
    mine = tmp_path / "mine.db"
    done = subprocess.run(
        [sys.executable, "-m", "diagtree", "demo"], cwd=tmp_path, capture_output=True, text=True, check=False,
        stdin=subprocess.DEVNULL, env=os.environ | {"DIAGTREE_STORE": str(mine), "TMPDIR": str(tmp_path)},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert list(tmp_path.iterdir()) == [], "neither a case in the store of everyday nor anything temporary"


def test_demo_keeps_its_case_where_a_store_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    store = str(tmp_path / "cases.db")
    assert main(["--store", store, "demo"]) == 0
    capsys.readouterr()
    assert main(["--store", store, "cases"]) == 0
    assert "closed" in capsys.readouterr().out


def test_slow_demo_shows_every_prompt_in_full_and_pauses(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    pauses: list[float] = []
    monkeypatch.setattr(time, "sleep", pauses.append)
    assert main(["demo", "--slow"]) == 0
    out = capsys.readouterr().out
    assert len(pauses) > 40
    assert all(1 <= pause <= 8 for pause in pauses)
    assert out.count("High voltage kills") > 2
