"""A danger is handed over to the tree that is made for it; there every test says so until something was mended."""

from __future__ import annotations

import pytest

from diagtree.knowledge.files import load
from diagtree.walk.answers import Back, Ticked
from diagtree.walk.cautions import AFTER_DANGER
from diagtree.walk.context import Walk
from diagtree.walk.danger_history import danger_stands
from diagtree.walk.prompts import Fields, Kind
from tests.walk.bay import Bay

FOUND = {"heat-where": "car-end", "heat-on-which-charge": "rapid", "inlet-dirt-look": "clean"}


@pytest.fixture
def bay() -> Bay:
    return Bay(Walk.begin(load(), "ac-fails-dc-works", "petrel-2"))


def test_a_burnt_car_goes_to_its_own_tree_and_its_tests_say_so(bay: Bay) -> None:
    bay.choose("burnt")
    bay.give(Ticked("stopped"))
    assert (bay.prompt.kind, bay.prompt.key) == (Kind.HAND_OVER, "heat-or-smell")
    bay.choose("go-on")
    asked = 0
    for _ in range(40):
        prompt = bay.until(Kind.OUTCOME, Kind.CONCLUSION, answers=FOUND)
        if prompt.kind is Kind.CONCLUSION:
            break
        assert prompt.cautions[0] == AFTER_DANGER, prompt.key
        asked += 1
        bay.choose({"inlet-dc-pins-look": "dark"}.get(prompt.key) or FOUND[prompt.key])
    assert (bay.prompt.key, asked) == ("inlet-dc-contact-burnt", 3)


def test_no_danger_no_such_caution(bay: Bay) -> None:
    prompt = bay.until(Kind.OUTCOME)
    assert AFTER_DANGER not in prompt.cautions
    assert not danger_stands(bay.walk, bay.state)


def test_a_danger_taken_back_is_none(bay: Bay) -> None:
    bay.choose("burnt")
    assert danger_stands(bay.walk, bay.state)
    bay.give(Back())
    assert not danger_stands(bay.walk, bay.state)


def test_what_was_mended_is_charged_again(bay: Bay) -> None:
    """After the correction and its proof charge the danger no longer stands."""
    bay.choose("burnt")
    bay.give(Ticked("stopped"))
    bay.choose("go-on")
    bay.until(Kind.CONCLUSION, answers={**FOUND, "inlet-dc-pins-look": "dark"})
    bay.choose("correct")
    form = bay.until(Kind.PROOF).form
    assert isinstance(form, Fields)
    assert danger_stands(bay.walk, bay.state)
    usual = {"minutes": "20", "watched": "20", "power": "50 kW", "cut_out": "no"}
    bay.type(**{field.name: usual.get(field.name, "40") for field in form.fields})
    bay.choose("not-fixed")
    assert not danger_stands(bay.walk, bay.state)


def test_a_wet_inlet_goes_to_the_tree_that_measures_before_it_is_dried_and_plugged_in(bay: Bay) -> None:
    """Unplugged, the car's own insulation value is read first; what is too low there leaves the house."""
    bay.choose("wet")
    bay.give(Ticked("stopped"))
    assert (bay.prompt.kind, bay.prompt.key) == (Kind.HAND_OVER, "insulation-warning")
    bay.choose("go-on")
    told = {
        "warning-danger": "no", "inlet-wet-look": "wet", "warning-when": "plugged-in", "warning-at-points": "any-point",
        "warning-on-kind": "both",
    }  # fmt: skip
    seen = []
    while (prompt := bay.until(Kind.OUTCOME, Kind.READING, answers=told)).kind is Kind.OUTCOME:
        assert prompt.cautions[0] == AFTER_DANGER, prompt.key
        seen.append(prompt.key)
        bay.choose(told[prompt.key])
    assert (seen, prompt.key) == (list(told), "insulation-at-rest")


@pytest.mark.parametrize("danger", ["cracked", "flooded", "crash", "smoke", "shock"])
def test_no_tree_goes_on_with_what_none_is_made_for(bay: Bay, danger: str) -> None:
    """With all shipped trees at hand: cracked, flooded, crashed, smoking cars and a shock felt leave the house."""
    bay.choose(danger)
    bay.give(Ticked("stopped"))
    assert bay.prompt.kind is Kind.REFER


def test_a_shock_felt_calls_a_doctor_too(bay: Bay) -> None:
    bay.choose("shock")
    assert any("doctor" in line for line in bay.prompt.cautions)
