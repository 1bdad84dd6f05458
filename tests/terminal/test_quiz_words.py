"""What a round tells and lists: free looks while a number is asked for, no noise, minutes beside money, whole words."""

from __future__ import annotations

import io
import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagtree.errors import AnswerError
from diagtree.knowledge.files import load
from diagtree.knowledge.library import read_library
from diagtree.quiz.choices import Choice, Kind
from diagtree.quiz.modes import GUIDED, MODES
from diagtree.quiz.round import Round, deal
from diagtree.quiz.score import Decision
from diagtree.terminal.face import Block, Look
from diagtree.terminal.quiz_car import CarTable
from diagtree.terminal.quiz_mode import ask_mode
from diagtree.terminal.setting import Setting
from diagtree.terminal.text import wrapped
from diagtree.terminal.views.quiz_car import PERHAPS, judged
from diagtree.terminal.views.quiz_pictures import Pictures
from diagtree.walk.context import Walk
from tests.terminal.house import FILES
from tests.terminal.quiz_work import WORK, Run

LIBRARY = read_library(FILES)


def dealt(mode: str = "practice", seed: str = "1") -> Round:
    return deal(Walk.begin(LIBRARY, "no-charge", "petrel"), seed, MODES[mode])


def table(played: Round) -> CarTable:
    return CarTable(played, [played.dealt], Pictures(drawn=False))


def told(played: Round, regret: float, at_least: float, at_most: float, minutes: float = 0.0, *, led: bool = False,
         before: set[str] | None = None) -> str:  # fmt: skip
    one = Decision(1, Choice(Kind.HINT), 1.0, 1.0, regret, at_least, at_most, minutes, None, led)
    return " ".join(block.text for block in judged(played, one, {PERHAPS} if before is None else before))


@pytest.mark.parametrize("asked", ["look", "tests", "causes", "access", "help", "tests sensor", "status"])
def test_one_may_look_before_one_says_how_sure(asked: str) -> None:
    one = table(dealt())
    one.take("advise point")
    assert one.label.startswith("How sure")
    taken = one.take(asked)
    assert taken.blocks
    assert not taken.events
    assert one.label.startswith("How sure")
    assert one.take("55").events


def test_another_act_while_how_sure_is_asked_is_told_the_way_back() -> None:
    one = table(dealt())
    one.take("advise point")
    with pytest.raises(AnswerError, match="`back` if something else"):
        one.take("make-safe")
    assert one.take("back").blocks
    assert one.label == "Act"
    assert one.take("make-safe").events


def test_what_is_not_proven_and_small_is_no_noise() -> None:
    played = dealt()
    assert told(played, 0.0, 0.0, 400.0) == "Nothing better was found than that."
    assert told(played, 4.0, 0.0, 400.0) == "About as good as the best found."
    assert told(played, 4.0, 4.0, 4.0) == "About 4 dearer than the best found."  # proven: every loss counts
    assert told(played, 0.4, 0.4, 0.4) == "A little dearer than the best found."


def test_why_it_is_not_proven_is_said_once() -> None:
    before: set[str] = set()
    first, second = (told(dealt(), 40.0, 0.0, 400.0, before=before) for _ in range(2))
    assert first.startswith('Perhaps 40 dearer than the best found. "Perhaps" means: a cheaper way was found, but')
    assert second == "Perhaps 40 dearer than the best found."
    assert told(dealt(), 40.0, 12.0, 60.0, before=set()).count("erhaps") == 0  # proven to be dearer


def test_minutes_stand_beside_the_money() -> None:
    assert told(dealt(), 40.0, 40.0, 40.0, 12.0) == "About 40 dearer and 12 min longer than the best found."
    assert told(dealt(), 40.0, 40.0, 40.0, -9.0) == "About 40 dearer than the best found, though 9 min quicker."
    assert told(dealt(), 40.0, 12.0, 60.0) == "About 40 dearer than the best found (surely 12 to 60)."


def test_the_tree_answers_for_its_own_steps() -> None:
    said = told(dealt("guided"), 40.0, 40.0, 40.0, 12.0, led=True)
    assert said == (
        "As the tree says. About 40 dearer and 12 min longer than the best found. That is not your fault and costs no "
        "points."
    )
    assert told(dealt("guided"), 0.0, 0.0, 9.0, led=True) == "As the tree says."


def test_a_guided_round_by_the_tree_has_full_points(quiz: Run) -> None:
    status, out, err = quiz("--mode", "guided", "--seed", "1", "--json", acts="go\n" * 8 + "50\n")
    assert status == 0, err
    found = json.loads(out)
    assert found["points"] == 100.0
    assert all(one["as_the_tree_says"] for one in found["decisions"])
    assert found["regret_by_the_tree"] == pytest.approx(found["regret"])
    assert found["regret_minutes"] == pytest.approx(sum(one["regret_minutes"] for one in found["decisions"]))


def test_regret_in_minutes_is_in_the_document(quiz: Run) -> None:
    found = json.loads(quiz("--mode", "practice", "--seed", "1", "--json", acts=WORK)[1])
    assert found["regret_minutes"] == pytest.approx(sum(one["regret_minutes"] for one in found["decisions"]))
    assert found["dearest"]["regret_minutes"] in [one["regret_minutes"] for one in found["decisions"]]
    assert found["told"] == {"other-point": "no"}
    assert 'the owner says: no.' in found["story"]


def test_the_list_of_tests_is_the_complaint_s_own() -> None:
    """The catalogue that ships serves other complaints too: those tests are listed when they are asked for."""
    played = deal(Walk.begin(load(), "ac-fails-dc-works", "petrel-2"), "1")
    one = table(played)
    shown = " ".join(block.text for block in one.take("tests").blocks)
    every = played.walk.catalogue.tests
    assert all(test in shown for test in played.test_numbers)
    others = [test for test in every if test not in played.test_numbers]
    assert f"{len(others)} more, of other complaints" in shown
    whole = " ".join(block.text for block in one.take("tests all").blocks)
    assert all(test in whole for test in every)
    assert others[0] in " ".join(block.text for block in one.take(f"tests {others[0]}").blocks)


def test_a_hint_says_the_act_and_each_reason_in_its_own_line() -> None:
    first, *reasons, paid, _ = (block.text for block in table(dealt()).take("hint").blocks)
    assert first.split(" ")[0] in ("test", "make-safe", "correct", "advise", "refer", "open")
    assert paid.startswith("The hint cost ")
    assert all(";" not in line and len(line) < 120 for line in reasons)


class Typed:
    """A face that types lines."""

    narrow = False

    def __init__(self, *lines: str) -> None:
        self.lines = list(lines)
        self.shown: list[str] = []

    def show(self, blocks: list[Block]) -> None:
        self.shown += [block.text for block in blocks]

    def ask(self, label: str) -> str:
        return self.lines.pop(0)


def test_a_complaint_is_chosen_after_the_mode() -> None:
    face = Typed("complaints", "guided no-such", "2 no-charge")
    assert ask_mode(face, [], "2026-01-01T00:00:00", [], LIBRARY) == (GUIDED.id, "no-charge")
    assert "no-charge: No charge" in face.shown
    assert any("there is no complaint `no-such`" in line for line in face.shown)
    assert ask_mode(Typed("reading"), [], "2026-01-01T00:00:00", [], LIBRARY) == ("reading", None)


SAVED = "diagtree: round 12 is saved; `diagtree quiz --mode practice --trainee anna` goes on with it"


@given(columns=st.integers(40, 120))
def test_what_is_wrapped_keeps_words_and_commands_whole(columns: int) -> None:
    lines = wrapped(SAVED, columns).splitlines()
    assert all(len(line) <= columns for line in lines)
    assert " ".join(line.strip() for line in lines) == SAVED
    if columns >= 60:
        assert any("`diagtree quiz --mode practice --trainee anna`" in line for line in lines)


def test_talk_is_wrapped_on_a_terminal_only(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")

    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    for stream, count in ((Terminal(), 2), (io.StringIO(), 1)):
        Setting(err=stream).talk(SAVED)
        assert len(stream.getvalue().splitlines()) == count


def test_a_newcomer_sees_car_and_complaint() -> None:
    heading, about, *_ = table(replace(dealt())).opening()
    assert heading == Block(Look.HEADING, "Practice: Petrel")
    assert "The owner's complaint: No charge." in about.text
