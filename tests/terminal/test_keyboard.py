"""The line editor, with keys pressed through a pipe."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.input.base import PipeInput
from prompt_toolkit.output import DummyOutput

from diagtree.terminal import keyboard
from diagtree.terminal.interrupted import Interrupted


@pytest.fixture
def keys() -> Iterator[PipeInput]:
    with create_pipe_input() as pipe, create_app_session(input=pipe, output=DummyOutput()):
        yield pipe


@pytest.mark.parametrize(("typed", "line"), [("2\r", "2"), ("  1.2 M \r", "1.2 M"), ("\r", ""), ("[/foo]\r", "[/foo]")])
def test_a_line_is_what_was_typed(keys: PipeInput, typed: str, line: str) -> None:
    keys.send_text(typed)
    assert keyboard.ask_line("Answer") == line


@pytest.mark.parametrize("typed", ["\x03", "half\x03", "\x04"], ids=["ctrl-c", "ctrl-c in a word", "ctrl-d"])
def test_ctrl_c_and_end_of_input_interrupt(keys: PipeInput, typed: str) -> None:
    keys.send_text(typed)
    with pytest.raises(Interrupted):
        keyboard.ask_line("Answer")


def test_a_bounced_enter_is_dropped(keys: PipeInput) -> None:
    keys.send_text("1\r\r2\r")  # all in one burst: what came after the first Enter was typed before the question stood
    assert keyboard.ask_line("First") == "1"
    keys.send_text("answer\r")
    assert keyboard.ask_line("Second") == "answer"
