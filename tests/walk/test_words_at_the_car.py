"""What the screens say at the car: a sum that reaches a limit, minutes to watch, what an access still serves."""

from __future__ import annotations

import pytest

from diagtree.knowledge.library import read_library
from diagtree.walk.context import Walk
from diagtree.walk.prompts import Fields, Kind
from tests.walk.bay import Bay, usual
from tests.walk.knowledge import TEXTS
from tests.walk.test_session import at_proof


@pytest.fixture
def bay() -> Bay:
    return Bay(Walk.begin(read_library(TEXTS), "first", "petrel-9"))


def test_a_reading_below_the_limit_is_told_with_the_sum_that_is_not(bay: Bay) -> None:
    """0.5 % of 29.8 V and 2 counts of 0.1 V, over the root of 3 and times 2: U = 0.4 V; 30.2 V is not below 30 V."""
    bay.until(Kind.ABSENCE, answers={"danger-look": "no", "desk-question": "no"})
    bay.type(pair1="29.8", pair2="0.3", pair3="-41")
    assert bay.prompt.kind is Kind.VOLTAGE_FOUND
    told = "\n".join(bay.prompt.about)
    assert "29.8 V and the meter's uncertainty U = 0.4 V make 30.2 V; must be below 30 V" in told
    assert "DC+ and chassis 0.3 V; must be below 30 V" in told
    assert "-41 V; must be below 30 V" in told


def test_the_form_says_how_long_a_proof_must_be_watched(bay: Bay) -> None:
    at_proof(bay)
    assert isinstance(bay.prompt.form, Fields)
    watched = next(field for field in bay.prompt.form.fields if field.name == "watched")
    assert watched.text == "minutes somebody watched it (a proof needs 5)"


def test_after_the_repair_no_access_is_said_to_serve_tests(bay: Bay) -> None:
    """`they would tell nothing new` beside a new high-voltage lead reads as if it need not be measured."""
    at_proof(bay)
    bay.type(minutes="30", watched="5", power="7.2", cut_out="no", inlet_temperature="41")
    bay.choose("fixed")
    said: dict[str, str] = {}
    while (prompt := bay.open_prompt) is not None and prompt.key != "hand-back:0":
        said |= {prompt.key: " ".join(prompt.about)} if prompt.kind is Kind.CLOSE else {}
        bay.give(usual(prompt, {}))
    assert "seat" in said
    assert not [line for line in said.values() if "serves" in line or "Cheap now" in line]
