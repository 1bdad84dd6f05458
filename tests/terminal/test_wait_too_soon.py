"""A wait that is confirmed before its time is asked back once, and never blocked: the clock may have run before."""

from __future__ import annotations

from dataclasses import replace

from diagtree.knowledge.library import read_library
from diagtree.terminal.dialogue import Dialogue
from diagtree.walk.answers import Ticked
from diagtree.walk.approach import minutes_since_act
from diagtree.walk.context import Walk
from diagtree.walk.prompts import Prompt
from tests.terminal.samples import ScriptFace, scene
from tests.walk.bay import AT, Bay
from tests.walk.knowledge import TEXTS


def at_wait() -> tuple[Prompt, Bay]:
    bay = Bay(Walk.begin(read_library(TEXTS), "first", "petrel-9"))
    return bay.until("make-safe:4", answers={"danger-look": "no", "desk-question": "no"}), bay


def said(minutes: float | None, *lines: str, attended: bool = True) -> str:
    face = ScriptFace(*lines)
    given = Dialogue(face, attended=attended).answer(at_wait()[0], replace(scene(), since=lambda: minutes))
    assert given == Ticked("done")
    assert face.rest == []
    return face.text


def test_a_wait_confirmed_after_a_second_is_asked_back_once() -> None:
    told = said(1 / 60, "done", "done")
    assert "Only 1 s since the step before; at least 5 min are asked for." in told
    assert told.count("Only 1 s") == 1


def test_a_wait_that_was_waited_is_taken_at_once() -> None:
    for minutes in (5.0, 20.0, None):
        assert "Only" not in said(minutes, "done")
    assert "Only" not in said(0.0, "done", attended=False)  # lines from a pipe: nobody reads it; the record shows it


def test_the_time_counts_from_the_last_act_on_the_car() -> None:
    _, bay = at_wait()
    assert minutes_since_act(bay.events, AT.replace("10:00:00", "10:00:30")) == 0.5
