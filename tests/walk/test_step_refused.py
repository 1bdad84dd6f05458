"""A safety question answered with no stays on the record beside the yes that came later, both with their times."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagtree.cases.store import open_store
from diagtree.errors import AnswerError
from diagtree.knowledge.library import read_library
from diagtree.report.job_record_safety import safety
from diagtree.terminal.drivers import Scene
from diagtree.terminal.run_walk import begin, play, reopen
from diagtree.walk.answers import Answer, Leave, Ticked
from diagtree.walk.context import Walk
from diagtree.walk.event_json import event_from_json, event_to_json
from diagtree.walk.events import StepDone, StepRefused
from diagtree.walk.fold import fold
from diagtree.walk.prompts import Kind, Prompt
from tests.walk.bay import AT, Bay, usual
from tests.walk.knowledge import TEXTS

NO = "no, it shows nothing"


class FirstNo:
    """Goes on as usual, but says no at the tester's first proof; stops at the measurement."""

    advised = False

    def __init__(self) -> None:
        self.told: list[str] = []

    def answer(self, prompt: Prompt, scene: Scene) -> Answer:
        if prompt.kind is Kind.ABSENCE:
            return Leave()
        if prompt.key == "make-safe:5" and not self.told:
            return Ticked("done", NO)
        return usual(prompt, {"danger-look": "no", "desk-question": "no"})

    def refused(self, message: str) -> None:
        self.told.append(message)

    def tell(self, *lines: str) -> None:
        """Nobody listens."""


def test_a_no_is_saved_before_it_is_refused_and_shown_beside_the_yes(tmp_path: Path) -> None:
    times = iter(f"2026-11-25T10:{minute:02d}:00+00:00" for minute in range(60))
    with open_store(str(tmp_path / "cases.db")) as store:
        saved = begin(Walk.begin(read_library(TEXTS), "first", "petrel-9"), store, clock=lambda: next(times))
        person = FirstNo()
        play(saved, person)
        assert len(person.told) == 1
        events = reopen(store, saved.case).events
    said = [event for event in events if isinstance(event, StepDone | StepRefused) and event.index == 5]
    assert [event.says for event in said] == [NO, "yes"]
    lines = [(one.at, one.said) for one in safety(saved.walk, events, {}) if "prove-tester" in one.what]
    assert lines == [(said[0].at, NO), (said[1].at, "yes")]
    assert said[0].at < said[1].at


def test_a_kept_no_changes_nothing_and_a_slip_is_not_kept() -> None:
    bay = Bay(Walk.begin(read_library(TEXTS), "first", "petrel-9"))
    bay.until("make-safe:5", answers={"danger-look": "no", "desk-question": "no"})
    for says, kept in ((NO, (StepRefused(AT, "make-safe", 5, NO),)), ("", ()), ("done", ())):
        with pytest.raises(AnswerError) as caught:
            bay.give(Ticked("done", says))
        assert caught.value.kept == kept
    refused = StepRefused(AT, "make-safe", 5, NO)
    assert event_from_json(event_to_json(refused)) == refused
    before = bay.prompt
    bay.state = fold(bay.walk, [refused], bay.state)
    assert bay.prompt == before
