"""The words of an advice are read before the key goes back, whichever way led to it."""

from __future__ import annotations

from diagtree.knowledge.library import read_library
from diagtree.walk.answers import ChooseNow
from diagtree.walk.context import Walk
from tests.walk.bay import Bay
from tests.walk.knowledge import TEXTS

DO = "Advice: Have the charge point checked."


def bay_at_work() -> Bay:
    bay = Bay(Walk.begin(read_library(TEXTS), "first", "petrel-9"))
    bay.until("desk-question")
    return bay


def at_hand_back(bay: Bay) -> str:
    """Go to the first step of hand-back and return what it shows."""
    bay.until("hand-back:0")
    return bay.limits_shown()


def test_an_advice_chosen_among_what_remains_is_shown() -> None:
    bay = bay_at_work()
    bay.give(ChooseNow())
    assert DO not in bay.limits_shown()
    bay.choose("advise:point")
    assert DO in at_hand_back(bay)
    assert "For the owner:" in bay.limits_shown()
    bay.finish()
    assert bay.state.closed == "advised"


def test_a_car_that_is_referred_has_no_advice() -> None:
    bay = bay_at_work()
    bay.give(ChooseNow())
    bay.choose("refer")
    assert "Advice:" not in at_hand_back(bay)
