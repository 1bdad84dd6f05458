"""Where a condition says that a look found nothing and the record says otherwise, both stand side by side."""

from __future__ import annotations

from diagtree.knowledge.files import load
from diagtree.walk.context import Walk
from diagtree.walk.danger_history import looks_on_record
from diagtree.walk.events import Answered, Begun, Event, Looked
from diagtree.walk.fold import fold
from tests.walk.bay import AT

CONDITION = ("The look at the inlet found nothing melted, cracked or wet.",)


def said(*items: Event, conditions: tuple[str, ...] = CONDITION) -> str:
    walk = Walk.begin(load(), "heat-or-smell", "petrel-2")
    state = fold(walk, (Begun(AT, "heat-or-smell", "petrel-2", 1.0, None, None), *items))
    return " ".join(looks_on_record(walk, state, conditions))


def test_what_the_looks_found_stands_beside_the_question() -> None:
    dark = Answered(AT, "inlet-pins-look", "dark")
    told = said(Looked(AT, "burnt"), dark, Answered(AT, "lock-fuse-look", "blown"))
    assert "first look: burnt (burn marks" in told
    assert "inlet-pins-look: dark" in told
    assert "lock-fuse-look" not in told
    assert "inlet-pins-look" not in said(dark, Answered(AT, "inlet-pins-look", "sound"))  # looked at again


def test_nothing_is_said_where_nothing_speaks_against_it() -> None:
    assert said(Looked(AT, "nothing")) == ""
    assert said(Looked(AT, "burnt"), conditions=("The car has rested.",)) == ""


def test_every_condition_of_the_shipped_knowledge_about_a_look_is_known() -> None:
    catalogue = load().catalogue("petrel-2")
    needs = [test.needs for test in catalogue.tests.values()]
    needs += [cause.correction.needs for cause in catalogue.causes.values() if cause.correction]
    lines = {line for one in needs for line in one.state if "look" in line.casefold()}
    assert lines
    for line in lines:
        assert said(Looked(AT, "burnt"), conditions=(line,)), line
