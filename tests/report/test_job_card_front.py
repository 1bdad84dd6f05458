"""The front of a job card stands on one screen of 24 lines, with all that is told for safety's sake."""

from __future__ import annotations

from textwrap import wrap

import pytest

from diagtree.knowledge.files import load
from diagtree.report.job_card_build import job_card
from diagtree.report.job_card_front import front
from diagtree.report.job_card_safety import NOT_SAFE
from diagtree.report.job_card_values import CAUTION_FIRST, JobCard
from diagtree.walk.context import Walk
from diagtree.walk.dangers import DANGERS
from diagtree.walk.events import Begun, Complained, Decided, Event, Looked
from diagtree.walk.fold import fold

AT = "2026-11-25T10:00:00+00:00"
COLUMNS, ROWS = 80, 24
BENEATH = 2  # the line that says where the rest is, and the shell's own


@pytest.fixture(scope="module")
def desk() -> Walk:
    return Walk.begin(load(), "triage", "petrel-2")


def card(desk: Walk, *more: Event) -> JobCard:
    house = desk.house
    begun = Begun(AT, "triage", desk.vehicle, house.rate, house.referral, house.comeback)
    return job_card(desk, fold(desk, (begun, *more)), "2026-0042", AT)


def rows(lines: tuple[str, ...]) -> int:
    return sum(len(wrap(line, COLUMNS, subsequent_indent="    ", break_on_hyphens=False)) for line in lines)


def test_every_complaint_fits_one_screen_and_all_its_safety_is_on_it(desk: Walk) -> None:
    for tree in desk.library.trees:
        if tree != "triage":
            one = card(desk, Looked(AT, "nothing"), Complained(AT, "it stops", 25.0), Decided(AT, "go-on", tree))
            lines = front(one)
            assert rows(lines) + BENEATH <= ROWS, (tree, *lines)
            text = "\n".join(lines)
            assert all(line in text for line in one.safety if line != NOT_SAFE)
            assert CAUTION_FIRST in text
            assert "LIKELIEST SO FAR" in text
            assert "Keep: " in text
            assert "`diagtree walk 2026-0042`" in text


@pytest.mark.parametrize("danger", [danger.id for danger in DANGERS])
def test_a_danger_is_told_in_full_and_nobody_is_sent_to_the_car(desk: Walk, danger: str) -> None:
    one = card(desk, Looked(AT, danger))
    text = "\n".join(front(one))
    assert all(line in text for line in one.safety if line != NOT_SAFE)
    assert "DANGER: the car stands apart" in text
    assert "diagtree walk" not in text
