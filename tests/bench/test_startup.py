"""Start-up: a tool that is called a hundred times a day must be there at once.

Ratios to a bare interpreter in the same run, best of several (a shared machine adds, never subtracts); and names of
modules, which are steadier than milliseconds.
"""

from __future__ import annotations

import compileall
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

import diagtree

PACKAGE = Path(diagtree.__file__).parent
HEAVY = ("networkx", "numpy", "scipy", "rich", "questionary", "prompt_toolkit", "yaml", "sqlite3", "hypothesis")


@pytest.fixture(scope="module", autouse=True)
def _bytecode() -> None:
    compileall.compile_dir(PACKAGE, quiet=2)


def best(arguments: list[str], times: int = 9) -> float:
    """Return the quickest of several runs of the interpreter with `arguments`. [s]"""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        subprocess.run([sys.executable, *arguments], check=True, capture_output=True, stdin=subprocess.DEVNULL)
        taken.append(time.perf_counter() - start)
    return min(taken)


def imported(arguments: list[str], tmp_path: Path) -> set[str]:
    """Return the top-level names of all modules that `diagtree ARGUMENTS` imports."""
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "diagtree", *arguments],
        capture_output=True, text=True, stdin=subprocess.DEVNULL, check=False,
        env=os.environ | {"DIAGTREE_STORE": str(tmp_path / "cases.db")},
    )  # fmt: skip
    return {line.rpartition("|")[2].strip().partition(".")[0] for line in done.stderr.splitlines() if "|" in line}


def test_version_takes_at_most_4_times_a_bare_interpreter() -> None:
    assert best(["-m", "diagtree", "--version"]) <= 4 * best(["-c", "pass"])


def test_version_imports_not_even_the_command_line(tmp_path: Path) -> None:
    assert not {"click", *HEAVY} & imported(["--version"], tmp_path)


@pytest.mark.parametrize("arguments", [["--help"], [], ["walk", "--help"], ["cases", "--help"], ["nosuch"]])
def test_help_imports_nothing_heavy(arguments: list[str], tmp_path: Path) -> None:
    found = imported(arguments, tmp_path)
    assert "click" in found
    assert not set(HEAVY) & found


FIRST = "Look first"
WALK = ["-m", "diagtree", "walk", "ac-fails-dc-works", "--vehicle", "petrel-2"]


def first_prompt(folder: Path, times: int = 5) -> float:
    """Return the least time from the start of a walk in a terminal to its first question on the screen. [s]"""
    pexpect = pytest.importorskip("pexpect")
    taken = []
    for number in range(times):
        store = {"DIAGTREE_STORE": str(folder / f"cases{number}.db"), "TERM": "xterm", "PROMPT_TOOLKIT_NO_CPR": "1"}
        start = time.perf_counter()
        child = pexpect.spawn(sys.executable, WALK, env=os.environ | store, dimensions=(24, 80), encoding="utf-8")
        child.expect_exact(FIRST, timeout=60)
        taken.append(time.perf_counter() - start)
        child.close(force=True)
    return min(taken)


def test_first_prompt_takes_at_most_25_times_a_bare_interpreter(tmp_path: Path) -> None:
    for _ in range(3):  # a busy machine may spoil a whole round; it cannot make a slow start look quick
        bare, first = best(["-c", "pass"], 15), first_prompt(tmp_path)
        if first <= 25 * bare:
            return
    pytest.fail(f"first prompt after {first:.3f} s, {first / bare:.1f} times a bare interpreter ({bare:.3f} s)")


def test_first_prompt_needs_neither_networkx_nor_numpy(tmp_path: Path) -> None:
    found = imported(WALK[2:], tmp_path)
    assert {"yaml", "sqlite3"} <= found, "the walk came as far as its first prompt"
    assert not {"networkx", "numpy", "scipy", "hypothesis"} & found
