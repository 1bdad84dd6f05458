"""The quiz in real terminals, and really killed."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.terminal.house import build
from tests.terminal.quiz_work import ONLY
from tests.terminal.terminals import Terminal


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Callable[..., Terminal]]:
    trees, opened = build(tmp_path / "trees"), []

    def begin(*arguments: str, size: tuple[int, int] = (80, 24), env: dict[str, str] | None = None) -> Terminal:
        own = {"DIAGTREE_QUIZ": str(tmp_path / "quiz.db"), "DIAGTREE_STORE": str(tmp_path / "cases.db"),
               "DIAGTREE_TREES": str(trees), "DIAGTREE_PLAIN": "", "NO_COLOR": "", "DIAGTREE_TRAINEE": ""}  # fmt: skip
        command = ["-m", "diagtree", "quiz", *arguments]
        terminal = Terminal(command, columns=size[0], rows=size[1], env=own | (env or {}))
        opened.append(terminal)
        return terminal

    yield begin
    for terminal in opened:
        terminal.close()


def act(terminal: Terminal, keys: str) -> None:
    """Type a line and read on until the next one can be typed."""
    terminal.send(keys)
    terminal.wait(lambda one: one.last.endswith(keys))
    terminal.send("\r")
    to_act(terminal)


def to_act(terminal: Terminal) -> None:
    """Read on, page by page, until an act can be typed."""
    terminal.wait(lambda one: one.last in ("Act >", "Enter to read on >"))
    while terminal.last != "Act >":
        terminal._read(0.2)
        pages = terminal.text.count("read on")
        terminal.send("\r")
        terminal.wait(lambda one, pages=pages: one.last == "Act >" or one.text.count("read on") > pages)  # type: ignore[misc]
    terminal._read(0.2)


def test_a_newcomer_chooses_plays_and_is_told_the_score(start: Callable[..., Terminal]) -> None:
    terminal = start()
    terminal.wait_for("Number or word >")
    assert "Now worth most: guided (you are new here" in terminal.text
    act(terminal, "practice")
    act(terminal, "other-point")
    terminal.send("refer\r")
    assert terminal.end() == 0
    assert "of 100 points" in terminal.text
    assert ONLY.replace(" ", "") in "".join(terminal.text.split())
    assert all(len(line) <= 80 for line in terminal.text.splitlines())


def test_ctrl_c_leaves_with_130_and_the_round_goes_on(start: Callable[..., Terminal]) -> None:
    terminal = start("--mode", "practice", "--seed", "1")
    to_act(terminal)
    act(terminal, "other-point")
    terminal.send("make-sa\x03")
    assert terminal.end() == 130
    told = " ".join(terminal.text.split())
    assert re.search(r"is saved; `diagtree [^`]*quiz --mode practice[^`]*` goes on with it", told)
    again = start()
    to_act(again)
    assert "other-point: no" in again.text


@pytest.mark.parametrize("env", [{"TERM": "dumb"}, {"DIAGTREE_PLAIN": "1"}])
def test_plain_terminals_get_plain_lines(start: Callable[..., Terminal], env: dict[str, str]) -> None:
    terminal = start("--mode", "safety", "--questions", "1", "--seed", "1", env=env)
    terminal.wait(lambda one: one.last.endswith(">"))
    terminal.send("1\r")
    assert terminal.end() == 0
    assert "\x1b" not in terminal.raw
    assert "1 right" in terminal.text


def test_a_narrow_terminal_shows_everything(start: Callable[..., Terminal]) -> None:
    terminal = start("--mode", "practice", "--seed", "1", size=(40, 12))
    to_act(terminal)
    assert all(len(line) <= 40 for line in terminal.text.splitlines())


def test_a_killed_round_goes_on_with_all_that_was_answered(tmp_path: Path) -> None:
    trees = build(tmp_path / "trees")
    command = [sys.executable, "-m", "diagtree", "--trees", str(trees), "quiz", "--progress", str(tmp_path / "quiz.db")]
    with subprocess.Popen(
        [*command, "--mode", "practice", "--seed", "1"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as child:
        assert child.stdin is not None
        assert child.stdout is not None
        child.stdin.write("other-point\nmake-safe\n")
        child.stdin.flush()
        end = time.monotonic() + 30
        seen = ""
        while "proven dead" not in seen and time.monotonic() < end:
            seen += child.stdout.readline()
        os.kill(child.pid, signal.SIGKILL)
    done = subprocess.run(command, input="look\nleave\n", capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "other-point: no" in done.stdout
    assert "Made safe and proven dead." in done.stdout
