"""What the job card tells the owner of dangers: the cautions of the answers, and looks that later ones belie."""

from __future__ import annotations

from diagtree.knowledge.words import TRIAGE
from diagtree.report.job_card_build import job_card
from diagtree.report.job_card_document import document
from diagtree.report.job_card_layout import sections
from diagtree.report.job_card_values import JobCard
from diagtree.walk.answers import RecordTest, Ticked
from diagtree.walk.context import Walk
from diagtree.walk.prompts import Kind
from diagtree.walk.route import Route, route
from tests.triage.owners import shipped
from tests.walk.bay import AT, Bay


def desk(words: str, tree: str) -> Bay:
    bay = Bay(Walk.begin(shipped(), TRIAGE, "petrel-1"))
    bay.choose("nothing")
    bay.type(words=words)
    if bay.prompt.kind is Kind.LOOK:
        bay.choose("nothing")
    bay.choose(tree)
    return bay


def card(bay: Bay) -> JobCard:
    return job_card(bay.walk, bay.state, "2026-0001", AT)


def text(bay: Bay) -> str:
    return repr(tuple(sections(card(bay))))


def found(bay: Bay) -> Route:
    return route(bay.walk, bay.state)


def test_a_wet_plug_says_on_the_card_not_to_plug_in_and_that_the_look_did_not_see_it() -> None:
    bay = desk("the breaker trips when the car charges", "trips-supply")
    bay.until("plug-and-inlet-look")
    assert "later" not in card(bay).looked
    bay.choose("wet")
    made = card(bay)
    assert any("`wet`" in line and "do not plug in again, here or at home" in line for line in made.safety)
    assert made.looked.endswith("later: wet")
    assert "later: wet" in text(bay)
    assert document(made)["looked"] == made.looked
    assert not found(bay).danger


def test_a_board_that_looks_burnt_says_all_its_cautions_on_the_card() -> None:
    bay = desk("the breaker trips when the car charges", "trips-supply")
    bay.until("board-looks-burnt", answers={"plug-and-inlet-look": "sound"})
    bay.choose("yes")
    safety = " ".join(card(bay).safety)
    for mind in bay.walk.test("board-looks-burnt").mind:
        assert mind in safety
    assert "later: Does the board" in card(bay).looked


def test_a_healthy_answer_adds_no_caution() -> None:
    bay = desk("the breaker trips when the car charges", "trips-supply")
    bay.until("board-looks-burnt", answers={"plug-and-inlet-look": "sound"})
    bay.choose("no")
    safety = " ".join(card(bay).safety)
    assert not any(mind in safety for mind in bay.walk.test("board-looks-burnt").mind)
    assert card(bay).looked == "nothing of the dangers asked for was seen"


def test_a_voltage_too_high_says_on_the_card_that_nobody_charges_there() -> None:
    bay = desk("no charge on AC, rapid is fine", "ac-fails-dc-works")
    warned = "no charge there before an electrician measured"
    assert warned not in " ".join(card(bay).safety)
    bay.give(RecordTest("point-volts", values={"lowest_voltage": "262"}))
    assert any("`too-high`" in line and warned in line for line in card(bay).safety)
    assert "later" not in card(bay).looked, "no look sees a voltage"


def test_a_danger_of_the_second_look_is_the_look_of_the_card() -> None:
    bay = Bay(Walk.begin(shipped(), TRIAGE, "petrel-1"))
    bay.choose("nothing")
    bay.type(words="I got a shock from the car")
    bay.choose("shock")
    bay.give(Ticked("stopped"))
    made = card(bay)
    assert (made.look, made.danger) == ("shock", True)
    assert made.looked.startswith("nothing of the dangers asked for was seen; asked again")
    assert made.looked.endswith("`shock`: DANGER: shock")
    assert made.safety[0].startswith("Do not touch the car")


def test_the_card_says_that_a_danger_has_sorted_the_case_where_it_did() -> None:
    bay = Bay(Walk.begin(shipped(), TRIAGE, "petrel-1"))
    bay.choose("burnt")
    bay.give(Ticked("stopped"))
    bay.choose("go-on")
    assert card(bay).complaint == "heat-or-smell"
    assert card(bay).sorted_by == "the danger that was found: burnt"
    assert card(desk("it smells burnt when charging", "heat-or-smell")).sorted_by.startswith("the owner's words")
