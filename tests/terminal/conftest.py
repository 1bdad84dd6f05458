"""What tests of several files in this folder start with."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from diagtree.terminal.main import main
from tests.terminal.house import build
from tests.terminal.quiz_work import Ran, Run


@pytest.fixture
def trees(tmp_path: Path) -> Path:
    """The folder of the small house; a test file may lay another one over it."""
    return build(tmp_path / "trees")


@pytest.fixture
def run(trees: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command line in `trees`: `answers` as a file, `lines` through standard input."""

    def go(*arguments: str, answers: str | None = None, lines: str = "") -> Ran:
        more: list[str] = []
        if answers is not None:
            (tmp_path / "answers.yaml").write_text(answers, "utf-8")
            more = ["--answers", str(tmp_path / "answers.yaml")]
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(lines.encode()), "utf-8"))
        status = main(["--trees", str(trees), "--store", str(tmp_path / "cases.db"), *arguments, *more])
        out, err = capsys.readouterr()
        return status, out, err

    return go


@pytest.fixture
def quiz(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run `quiz` in the small house, or on the knowledge that ships; `acts` as a file, `lines` through a pipe."""
    trees = build(tmp_path / "trees")

    def go(*arguments: str, acts: str | None = None, lines: str = "", ships: bool = False) -> Ran:
        more: list[str] = []
        if acts is not None:
            (tmp_path / "acts").write_text(acts, "utf-8")
            more = ["--answers", str(tmp_path / "acts")]
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(lines.encode()), "utf-8"))
        before = ["--store", str(tmp_path / "cases.db"), *([] if ships else ["--trees", str(trees)])]
        status = main([*before, "quiz", "--progress", str(tmp_path / "quiz.db"), *arguments, *more])
        out, err = capsys.readouterr()
        return status, out, err

    return go
