"""The command line: every end is an exit status and at most a few lines, never a traceback."""

from __future__ import annotations

from pathlib import Path

import click
import pytest

from diagtree import __version__
from diagtree.errors import DiagtreeError, KnowledgeError, StoreError
from diagtree.knowledge.place import Finding, Level, Place
from diagtree.terminal import commands
from diagtree.terminal.interrupted import Interrupted
from diagtree.terminal.main import main


@pytest.fixture
def raising(monkeypatch: pytest.MonkeyPatch) -> dict[str, BaseException]:
    """A command `boom` that raises what the test puts in here."""
    box: dict[str, BaseException] = {}

    @click.command("boom")
    def boom() -> None:
        raise box["error"]

    monkeypatch.setattr(commands, "modules", lambda: {"boom": "nowhere.boom", "walk": "nowhere.walk"})
    monkeypatch.setattr(commands, "load", lambda name: boom)
    monkeypatch.setattr(commands, "summary", lambda name: "raises")
    return box


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"diagtree {__version__}\n"


def test_help_lists_every_command_with_its_summary(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"]) == 0
    text = capsys.readouterr().out
    for name in commands.modules():
        assert f"  {name}" in text
        assert commands.summary(name)


@pytest.mark.parametrize("name", sorted(commands.modules()))
def test_every_command_file_keeps_to_the_rules(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    command = commands.load(name)
    assert command.name == name
    assert command.help, "a command explains itself"
    assert 10 < len(commands.summary(name)) < 90
    assert main([name, "--help"]) == 0
    assert name in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["chek"], "did you mean `check`?"),
        (["zzzzz"], "there are"),
        (["--nosuch"], "--nosuch"),
        (["check", "--format", "yaml"], "yaml"),
        (["check", "--formt", "json"], "--format"),
        (["check", "no-such-folder"], "no folder"),
        (["--trees", "no-such-folder", "check"], "no folder"),
        (["--trees"], "requires an argument"),
    ],
)
def test_wrong_use_is_one_line_and_status_2(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err
    assert len(err.splitlines()) == 1
    assert err.startswith("diagtree: ")


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (DiagtreeError("no such\nthing"), 2),
        (StoreError("disk full"), 2),
        (Interrupted("case 2026-0001 is saved"), 130),
        (KeyboardInterrupt(), 130),
        (EOFError(), 130),
        (ZeroDivisionError("division by zero"), 70),
    ],
)
def test_every_error_is_one_line(
    raising: dict[str, BaseException], error: BaseException, status: int, capsys: pytest.CaptureFixture[str]
) -> None:
    raising["error"] = error
    assert main(["boom"]) == status
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.strip().splitlines()) == 1
    assert "Traceback" not in err


def test_a_mistake_of_ours_names_the_saved_case(
    raising: dict[str, BaseException], capsys: pytest.CaptureFixture[str]
) -> None:
    error = ZeroDivisionError("x")
    error.diagtree_case = "2026-0007"  # type: ignore[attr-defined]
    raising["error"] = error
    assert main(["boom"]) == 70
    assert "case 2026-0007: your answers are saved" in capsys.readouterr().err


def test_the_traceback_is_there_for_those_who_ask(
    raising: dict[str, BaseException], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DIAGTREE_DEBUG", "1")
    raising["error"] = ZeroDivisionError("x")
    assert main(["boom"]) == 70
    assert "Traceback" in capsys.readouterr().err


def test_unusable_knowledge_tells_its_findings(
    raising: dict[str, BaseException], capsys: pytest.CaptureFixture[str]
) -> None:
    findings = tuple(Finding("x", Level.ERROR, Place("trees/a.yaml", line, 3), "wrong") for line in range(1, 31))
    raising["error"] = KnowledgeError("30 mistakes", findings)
    assert main(["boom"]) == 2
    err = capsys.readouterr().err
    assert "trees/a.yaml:1:3 error: wrong" in err
    assert "20 more" in err


def test_check_tells_file_line_and_column(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "catalogue"
    folder.mkdir()
    (folder / "tests.yaml").write_text("tests:\n  a: {ask: x, ask: y}\n", "utf-8")
    assert main(["--trees", str(tmp_path), "check"]) == 1
    assert "catalogue/tests.yaml:2:15 error: `ask` stands here a second time" in capsys.readouterr().out


def test_check_json_is_one_document(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    import json

    (tmp_path / "t.yaml").write_bytes(b"tree: \xff\n")
    assert main(["check", "--format", "json", str(tmp_path)]) == 1
    out, err = capsys.readouterr()
    (finding,) = json.loads(out)["findings"]
    assert finding["rule"] == "not-utf-8"
    assert (finding["line"], finding["column"]) == (1, 7)
    assert err == ""


def test_a_reader_that_goes_away_is_no_error() -> None:
    import subprocess
    import sys

    command = f"{sys.executable} -m diagtree --help | head -n 1; echo ${{PIPESTATUS[0]}}"
    done = subprocess.run(["bash", "-c", command], capture_output=True, text=True, check=False)
    assert done.stdout.splitlines()[-1] == "0"
    assert done.stderr == ""
