"""Plain lines: append-only, no escape codes, one line in for one line out."""

from __future__ import annotations

import io

import pytest

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import plain as plain_lines
from diagtree.terminal.interrupted import Interrupted
from diagtree.walk.answers import Chosen, Note, Ticked, Typed
from tests.terminal.samples import LOOK, READING, SECURE, YES_NO, scene


def driver(*lines: str) -> tuple[Dialogue, io.StringIO]:
    out = io.StringIO()
    return plain_lines.driver(out, io.StringIO("".join(f"{line}\n" for line in lines))), out


def test_piped_lines_answer_prompt_after_prompt() -> None:
    plain, out = driver("nothing", "2", "1.2 M", "18", "me", "done")
    answers = [plain.answer(prompt, scene()) for prompt in (LOOK, YES_NO, READING, SECURE)]
    assert answers == [
        Chosen(("nothing",)), Chosen(("no",)), Typed({"resistance": "1.2 M", "temperature": "18"}),
        Ticked("done", "me"),
    ]  # fmt: skip
    assert "CAUTION: Do not touch a burnt plug." in out.getvalue()
    assert "Resistance (ohm)> 1.2 M\n" in out.getvalue(), "what came through the pipe stands in the record"


def test_no_escape_codes_even_from_people() -> None:
    plain, out = driver("note \x1b[31mred [/foo]", "1")
    assert plain.answer(YES_NO, scene()) == Note("\x1b[31mred [/foo]")
    assert "\x1b" not in out.getvalue()
    assert "[/foo]" in out.getvalue()


def test_long_lines_are_left_whole() -> None:
    plain, out = driver("1")
    plain.answer(YES_NO, scene())
    assert any(YES_NO.ask in line for line in out.getvalue().splitlines())


def test_empty_lines_and_the_end_of_input_answer_nothing() -> None:
    plain, out = driver("", "")
    with pytest.raises(Interrupted):
        plain.answer(YES_NO, scene())
    assert out.getvalue().count("Enter alone is no answer") == 2


def test_the_last_line_counts_without_its_line_end() -> None:
    plain = plain_lines.driver(io.StringIO(), io.StringIO("1"))
    assert plain.answer(YES_NO, scene()) == Chosen(("yes",))
