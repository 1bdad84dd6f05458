"""Cautions of the step before are shown in short; those about live or high voltage, and all that is new, in full."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.terminal.dialogue import Dialogue
from diagtree.walk import cautions
from diagtree.walk.cautions import in_short
from tests.terminal.samples import YES_NO, ScriptFace, scene

GLOVES = "Gloves rated for the car's voltage and within their test date. Check them for air leaks before each use."
FAN = "The cooling fan may start by itself."
INSIDE = "The inside of the battery stays live, always. Do not open it."


@pytest.mark.parametrize(
    ("caution", "short"),
    [
        (cautions.LAW_FIRST, "Local law, the maker's procedure and ..."),
        (GLOVES, "Gloves rated for the car's voltage ..."),
        (FAN, "The cooling fan may start by itself"),
        (INSIDE, None),
        (cautions.COUNTS_AS_LIVE, None),
        (cautions.HIGH_VOLTAGE, None),
        (cautions.LIVE_TEST, None),
        (cautions.MAINS, None),
        (cautions.AFTER_DANGER, None),
        ("The tester puts 500 V on the pins.", None),
        ("Only on a car that is made safe and proven dead, the inlet's pins too.", None),
        ("No voltage does not mean dead pins. One welded contactor alone shows none between them.", None),
        ("Never use the insulation tester towards the battery or a control unit.", None),
        ("A shock felt: the person sees a doctor today.", None),
        ("Smoke or hissing: leave the car, keep people away.", "Smoke or hissing: leave the car, ..."),
    ],
)
def test_nothing_about_live_or_high_voltage_has_a_short_form(caution: str, short: str | None) -> None:
    assert in_short(caution) == short


def shown(*steps: tuple[tuple[str, ...], object], between: str = "yes") -> str:
    """Return what the last of some steps shows. steps : cautions and how the car stands."""
    face = ScriptFace()
    dialogue = Dialogue(face)
    for number, (warned, standing) in enumerate(steps, start=1):
        face.rest.append("yes" if number == len(steps) else between)
        if face.rest[-1] == "u":
            face.rest.append("not yet")
        face.shown.clear()
        dialogue.answer(replace(YES_NO, cautions=warned, did_not=True), replace(scene(), standing=standing))
    return face.text


def test_the_same_cautions_share_a_line_and_new_ones_stand_in_full() -> None:
    text = shown(((GLOVES, INSIDE), "live"), ((GLOVES, INSIDE, FAN), "live"))
    assert "as before: Gloves rated for the car's voltage ..." in text
    assert GLOVES not in text
    assert INSIDE in text
    assert FAN in text


@pytest.mark.parametrize(
    ("before", "now", "between"),
    [
        ("live", "dead", "yes"),  # power or access changed
        (None, None, "yes"),  # nobody knows how the car stands
        ("live", "live", "b"),  # something was taken back
        ("live", "live", "u"),  # a step of making safe was not done
    ],
)
def test_where_anything_changed_all_is_shown_in_full(before: object, now: object, between: str) -> None:
    assert GLOVES in shown(((GLOVES,), before), ((GLOVES,), now), between=between)


def test_what_stood_two_steps_before_is_shown_in_full() -> None:
    assert GLOVES in shown(((GLOVES,), "live"), ((FAN,), "live"), ((GLOVES, FAN), "live"))


@settings(deadline=None, max_examples=50)
@given(st.lists(st.text("abc live.V5 ", min_size=1).map(str.strip).filter(bool), min_size=1, max_size=5, unique=True))
def test_every_caution_is_told_at_every_step_in_full_or_by_its_first_words(warned: list[str]) -> None:
    text = shown((tuple(warned), "live"), (tuple(warned), "live"))
    for line in warned:
        assert (in_short(line) or line) in text
