"""Blocks on a screen: wrapped, never cut, brackets as typed, readable without colour and without Unicode."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.terminal.drivers.person import TerminalFace
from diagtree.terminal.face import Block, Look
from diagtree.terminal.screen import Screen
from diagtree.terminal.views.prompt import heading, whole
from tests.terminal.samples import LOOK, READING, SECURE

LONG = "With the vehicle unplugged and switched off, measure the resistance between the two pins of the inlet sensor"


class Stream(io.TextIOWrapper):
    """Standard output of a terminal that takes `encoding`."""

    def __init__(self, encoding: str = "utf-8", terminal: bool = True) -> None:
        super().__init__(io.BytesIO(), encoding=encoding, errors="replace", write_through=True)
        self._terminal = terminal

    def isatty(self) -> bool:
        return self._terminal

    @property
    def text(self) -> str:
        return self.buffer.getvalue().decode(self.encoding)  # type: ignore[attr-defined]


def test_a_test_is_headed_by_its_name_in_words() -> None:
    """An id is for the record; people read words. Other prompts have a heading of their own."""
    power = replace(READING, key="ac-power-readout", progress=(3, 17))
    assert heading(power) == "AC power readout (3 to 17 steps to go)"
    assert heading(replace(READING, key="stops-at", progress=(1, 1))) == "Stops at (1 step to go)"
    assert heading(SECURE) == SECURE.heading


def shown(
    monkeypatch: pytest.MonkeyPatch, blocks: list[Block], *, columns: int = 80, stream: Stream | None = None
) -> str:
    monkeypatch.setenv("COLUMNS", str(columns))
    monkeypatch.setenv("LINES", "24")
    monkeypatch.setenv("TERM", "xterm-256color")
    out = stream or Stream()
    Screen(out).show(blocks)
    return out.text


@pytest.mark.parametrize("columns", [40, 60, 80, 120])
def test_no_line_is_wider_than_the_screen_and_no_word_is_lost(monkeypatch: pytest.MonkeyPatch, columns: int) -> None:
    text = shown(monkeypatch, [Block(Look.OPTION, LONG, "  1  ")], columns=columns, stream=Stream(terminal=False))
    lines = text.splitlines()
    assert all(len(line) <= columns for line in lines)
    assert " ".join(text.split()) == f"1 {LONG}"
    assert all(line.startswith("     ") for line in lines[1:]), "further lines line up with the text"


@pytest.mark.parametrize(("columns", "expected"), [(20, 40), (300, 120), (77, 77)])
def test_width_stays_between_40_and_120(monkeypatch: pytest.MonkeyPatch, columns: int, expected: int) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    assert Screen(Stream()).size[0] == expected


@pytest.mark.parametrize("text", ["value [red]", "[/foo]", "[bold]x[/]", ":warning: [link=x]y", "\\[x]"])
def test_square_brackets_are_shown_as_typed(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    assert text in shown(monkeypatch, [Block(Look.SAID, text)], stream=Stream(terminal=False))


def test_blanks_before_the_words_indent_all_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    text = shown(monkeypatch, [Block(Look.SAID, f"   {LONG}", "  ")], columns=60, stream=Stream(terminal=False))
    assert len(text.splitlines()) > 1
    assert all(re.match(r" {5}\S", line) for line in text.splitlines())
    assert " ".join(text.split()) == LONG
    assert not shown(monkeypatch, [Block(Look.SAID, "   ", "  ")], stream=Stream(terminal=False)).strip()


def test_no_color_leaves_no_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    text = shown(monkeypatch, list(whole(LOOK)))
    assert "\x1b[3" not in text
    assert "CAUTION: Do not touch" in re.sub("\x1b\\[[0-9;]*m", "", text)


def test_colours_are_there_for_those_who_see_them(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert "\x1b[" in shown(monkeypatch, list(whole(LOOK)))


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_streams_without_unicode_get_the_trade_signs_spelt_out(monkeypatch: pytest.MonkeyPatch, encoding: str) -> None:
    blocks = [Block(Look.HEADING, "Sensor"), Block(Look.TOLD, "≥ 1.2 MΩ ± 5 µA at 18 °C → open")]
    text = shown(monkeypatch, blocks, stream=Stream(encoding, terminal=False))
    assert ">= 1.2 Mohm +/- 5 uA at 18 deg C -> open" in text
    assert "-" * 80 in text


def test_escape_sequences_in_text_cannot_steer_the_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    text = shown(monkeypatch, [Block(Look.SAID, "a\x1b[2Jb\x07\rc\u202ed")], stream=Stream(terminal=False))
    assert "\x1b" not in text
    assert "\x07" not in text
    assert "\u202e" not in text


@settings(deadline=None, max_examples=150)
@given(text=st.text(max_size=200), columns=st.sampled_from([40, 80]))
def test_any_text_can_be_shown(text: str, columns: int) -> None:
    with pytest.MonkeyPatch.context() as patch:
        out = shown(patch, [Block(Look.ASK, text, "! ")], columns=columns, stream=Stream(terminal=False))
    assert out.startswith("! ")


def test_the_question_and_its_answers_come_last() -> None:
    blocks = list(whole(READING))
    assert blocks[-1].text == READING.ask
    assert [block.look for block in blocks].index(Look.CAUTION) < [block.look for block in blocks].index(Look.HOW)


class Typist:
    """A keyboard that types given lines, and the labels it was asked with."""

    def __init__(self, *lines: str) -> None:
        self._lines = list(lines)
        self.labels: list[str] = []

    def __call__(self, label: str) -> str:
        self.labels.append(label)
        return self._lines.pop(0)


def small_face(monkeypatch: pytest.MonkeyPatch, *lines: str) -> tuple[TerminalFace, Stream, Typist]:
    monkeypatch.setenv("COLUMNS", "40")
    monkeypatch.setenv("LINES", "12")
    stream, typist = Stream(terminal=False), Typist(*lines)
    monkeypatch.setattr("diagtree.terminal.keyboard.ask_line", typist)
    return TerminalFace(Screen(stream)), stream, typist


def test_a_long_prompt_comes_page_by_page_and_nothing_typed_there_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    face, stream, typist = small_face(monkeypatch, "", "1", "answer")
    cautions = [Block(Look.CAUTION, f"caution number {number}", "CAUTION: ") for number in range(15)]
    face.show([*cautions, Block(Look.ASK, "Is it?"), Block(Look.OPTION, "yes", "  1  ")])
    assert typist.labels == ["Enter to read on"] * 2
    assert "Not taken" in stream.text
    assert face.ask("Answer") == "answer"


def test_a_long_list_may_be_answered_before_its_end(monkeypatch: pytest.MonkeyPatch) -> None:
    face, stream, typist = small_face(monkeypatch, "3")
    options = [Block(Look.OPTION, f"cause {number}", f"{number:>3}  ") for number in range(1, 31)]
    face.show([Block(Look.ASK, "Which?"), *options])
    assert typist.labels == ["Answer, or Enter for more"]
    assert "cause 30" not in stream.text
    assert face.ask("Answer") == "3"


def test_a_long_list_with_a_danger_in_it_is_read_to_its_end(monkeypatch: pytest.MonkeyPatch) -> None:
    face, stream, _ = small_face(monkeypatch, "1", "", "1")
    options = [Block(Look.OPTION, f"cause {number}", f"{number:>3}  ") for number in range(1, 20)]
    face.show([Block(Look.ASK, "Which?"), *options, Block(Look.DANGER, "smoke", "  smoke: ")])
    assert "Not taken" in stream.text
    assert "smoke: smoke" in stream.text
