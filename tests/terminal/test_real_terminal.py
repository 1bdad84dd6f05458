"""The program in real terminals: wide, usual and tiny; bounced keys, Ctrl-C, no colour, no Unicode, dumb."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.terminal.terminals import Terminal

SIZES = [(80, 24), (120, 40), (40, 12)]
Start = Callable[..., Terminal]


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Start]:
    opened: list[Terminal] = []

    def begin(*arguments: str, size: tuple[int, int] = (80, 24), env: dict[str, str] | None = None) -> Terminal:
        store = {"DIAGTREE_STORE": str(tmp_path / "cases.db"), "DIAGTREE_PLAIN": "", "NO_COLOR": ""}
        terminal = Terminal(list(arguments), columns=size[0], rows=size[1], env=store | (env or {}))
        opened.append(terminal)
        return terminal

    yield begin
    for terminal in opened:
        terminal.close()


WALK = ("-m", "diagtree", "walk", "ac-fails-dc-works", "--vehicle", "petrel-2")
ASK = ("-m", "tests.terminal.children.ask")
PROMPT = re.compile(r"> *$")


def read_on(terminal: Terminal) -> None:
    """Press Enter through the pages until a question stands there."""
    terminal.wait(lambda one: bool(PROMPT.search(one.last)))
    terminal.wait_for(">")
    while "read on" in terminal.last:
        before = terminal.raw.count("read on")
        terminal.send("\r")
        terminal.wait(lambda one, seen=before: PROMPT.search(one.last) and (  # type: ignore[misc]
            "read on" not in one.last or one.raw.count("read on") > seen + 1))
        terminal.wait_for(">")


def events(tmp_path: Path, case: str = "1") -> list[str]:
    done = subprocess.run(
        [sys.executable, "-m", "diagtree", "--store", str(tmp_path / "cases.db"), "cases", "show", case, "--json"],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    return [event["type"] for event in json.loads(done.stdout)["events_in_order"]]


@pytest.mark.parametrize("size", SIZES)
def test_every_choice_of_the_first_look_can_be_read_whole(start: Start, size: tuple[int, int]) -> None:
    terminal = start(*WALK, size=size)
    read_on(terminal)
    seen = " ".join(terminal.text.split())
    for words in ("burn marks, melted or discoloured plastic", "an insulation or high-voltage warning in the instrum",
                  "High voltage kills", "nothing of this kind"):  # fmt: skip
        assert words in seen
    assert all(len(line) <= size[0] for line in terminal.text.splitlines())


@pytest.mark.parametrize("size", SIZES)
def test_a_bounced_enter_never_answers_the_next_question(start: Start, tmp_path: Path, size: tuple[int, int]) -> None:
    terminal = start(*WALK, size=size)
    read_on(terminal)
    terminal.send("1\r\r1\r\r")  # an answer with bounces, and more of them, in one burst
    terminal.wait_for("owner's words" if size[0] > 60 else ">")
    terminal._read(0.5)
    assert events(tmp_path) == ["Begun", "Looked"]


def test_ctrl_c_saves_and_leaves_with_130_and_the_walk_goes_on_there(start: Start, tmp_path: Path) -> None:
    terminal = start(*WALK)
    read_on(terminal)
    terminal.answer("1", "none`")
    terminal.send("half an ans\x03")
    assert terminal.end() == 130
    assert "case" in terminal.text
    assert "is saved; go on with `diagtree walk" in " ".join(terminal.text.split())
    again = start("-m", "diagtree", "walk", "1")
    again.wait_for("none`")
    assert "The complaint" in again.text
    assert events(tmp_path) == ["Begun", "Looked", "Resumed"]


def test_ctrl_d_leaves_like_ctrl_c(start: Start) -> None:
    terminal = start(*WALK)
    read_on(terminal)
    terminal.send("\x04")
    assert terminal.end() == 130


def test_ctrl_c_inside_a_note_leaves_too(start: Start, tmp_path: Path) -> None:
    terminal = start(*WALK)
    read_on(terminal)
    terminal.answer("note", "on record? >")
    terminal.send("\x03")
    assert terminal.end() == 130
    assert events(tmp_path) == ["Begun"]


def test_leave_is_a_word_and_fine(start: Start) -> None:
    terminal = start(*WALK)
    read_on(terminal)
    terminal.send("leave\r")
    assert terminal.end() == 0


@pytest.mark.parametrize("note", ["value [red]", "[/foo]", "[bold]x[/bold] \\[y]"])
def test_brackets_in_a_note_are_shown_and_kept_as_typed(start: Start, tmp_path: Path, note: str) -> None:
    terminal = start(*WALK)
    read_on(terminal)
    terminal.answer("note " + note, ">")
    done = subprocess.run(
        [sys.executable, "-m", "diagtree", "--store", str(tmp_path / "cases.db"), "cases", "show", "1"],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert f"text={note}" in done.stdout
    show = start("-m", "diagtree", "cases", "show", "1")
    show.end()
    assert f"text={note}" in show.text.replace("\n", "")


def test_no_color_has_no_colours_and_says_the_same(start: Start) -> None:
    coloured, grey = start(*ASK, "LOOK"), start(*ASK, "LOOK", env={"NO_COLOR": "1"})
    coloured.wait_for("between >")
    grey.wait_for("between >")
    assert re.search("\x1b\\[[0-9;]*3[0-7]m", coloured.raw)
    assert not re.search("\x1b\\[[0-9;]*(3[0-7]|38;5;[0-9]+)m", grey.raw)
    assert coloured.text == grey.text


def test_a_dumb_terminal_gets_plain_lines(start: Start) -> None:
    terminal = start(*WALK, env={"TERM": "dumb"})
    terminal.wait_for("Number or word>")
    terminal.send("1\r")
    terminal.wait_for("none`>")
    assert "\x1b" not in terminal.raw


def test_plain_mode_drops_what_was_typed_before_the_question(start: Start, tmp_path: Path) -> None:
    terminal = start("-m", "diagtree", "--plain", *WALK[2:])
    terminal.wait_for("Number or word>")
    terminal.send("1\r\r\r1\r")
    terminal.wait_for("none`>")
    terminal._read(0.5)
    assert events(tmp_path) == ["Begun", "Looked"]
    assert "\x1b" not in terminal.raw


@pytest.mark.parametrize("locale", [{"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}])
def test_an_ascii_locale_gets_ascii(start: Start, locale: dict[str, str]) -> None:
    terminal = start(*WALK, env=locale | {"PYTHONIOENCODING": "ascii"})
    read_on(terminal)
    assert terminal.raw.isascii()
    assert "-" * 80 in terminal.text
    terminal.send("1\r")
    terminal.wait_for("none`")


def test_without_an_argument_the_trees_and_open_cases_are_offered(start: Start) -> None:
    first = start(*WALK)
    read_on(first)
    first.send("q\r")
    assert first.end() == 0
    terminal = start("-m", "diagtree", "walk")
    terminal.wait_for("Answer >")
    assert re.search(r"1  go on with \d{4}-0001: AC charging fails", terminal.text)
    assert "2  begin: " in terminal.text


def test_two_windows_on_one_case_are_told(start: Start) -> None:
    first = start(*WALK)
    read_on(first)
    second = start("-m", "diagtree", "walk", "1")
    read_on(second)
    assert "open in another window too" in " ".join(second.text.split())
    second.answer("1", "none`")
    first.send("1\r")
    assert first.end() == 2
    assert "went on with this case in another window" in " ".join(first.text.split())
