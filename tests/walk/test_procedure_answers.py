"""What a step of a procedure takes as its answer, and which steps a hand-back has."""

from __future__ import annotations

import pytest

from diagtree.errors import AnswerError
from diagtree.knowledge.library import read_library
from diagtree.walk.answers import DoNow, Ticked
from diagtree.walk.context import Walk
from diagtree.walk.events import StepDone
from diagtree.walk.prompts import Kind, Prompt, Tick
from diagtree.walk.respond import fits
from tests.walk.bay import Bay
from tests.walk.knowledge import TEXTS


def test_the_confirming_word_is_no_answer_to_who_holds_the_key() -> None:
    """Typing `done` twice by habit must not become the name of a key holder or the proof of a tester."""
    prompt = Prompt(Kind.PROCEDURE, "make-safe:3", "Make safe", "Who?", Tick(says="who holds the key"))
    with pytest.raises(AnswerError, match="who holds the key"):
        fits(prompt, Ticked("done", "Done "))
    fits(prompt, Ticked("done", "shift lead"))


def handed_back(bay: Bay) -> list[str]:
    """Finish the case, and return the kinds of the steps of hand-back that were asked."""
    assert bay.until("hand-back:0").heading.startswith("Hand back, step 1 of ")  # whatever steps it leaves out
    bay.finish()
    steps = bay.walk.catalogue.procedures["hand-back"].steps
    return [steps[int(key.split(":")[1])].kind for kind, key in bay.asked if kind is Kind.PROCEDURE]


def test_a_car_on_which_a_danger_was_found_is_not_charged_at_hand_back() -> None:
    """A stop outcome may name a cause; giving its advice hands the car back, but plugs nothing in."""
    tree = TEXTS["first.yaml"].replace("yes: {refer: the fire service}", "yes: {conclude: point}")
    assert tree != TEXTS["first.yaml"]
    bay = Bay(Walk.begin(read_library({**TEXTS, "first.yaml": tree}), "first", "petrel-9"))
    bay.until("danger-look")
    bay.choose("yes")
    bay.give(Ticked("stopped"))
    bay.choose("advise")
    assert handed_back(bay) == ["codes"]
    assert bay.state.closed == "advised"


@pytest.mark.parametrize(("where", "kinds"), [("outside", ["codes", "lock", "charge"]), ("battery", ["codes"])])
def test_a_car_with_an_advised_fault_of_its_own_gets_no_plug_at_hand_back(where: str, kinds: list[str]) -> None:
    """Advice for a battery may say that it must not be charged; nobody may be asked to charge it then."""
    text = TEXTS["catalogue/all.yaml"].replace("name: charge point, where: outside", f"name: one, where: {where}")
    text = text.replace("{kind: charge, do: Charge", "{kind: lock, do: Plug in.}, {kind: charge, do: Charge")
    tree = TEXTS["first.yaml"].replace("no: desk-question}", "no: {conclude: point}}")
    assert tree != TEXTS["first.yaml"]
    knowledge = {**TEXTS, "first.yaml": tree, "catalogue/all.yaml": text}
    bay = Bay(Walk.begin(read_library(knowledge), "first", "petrel-9"))
    bay.until("danger-look")
    bay.choose("no")
    bay.choose("advise")
    assert handed_back(bay) == kinds


def test_a_question_among_the_steps_wants_its_answer_on_the_record() -> None:
    """`done` answers no question: whether a warning is shown must stand in the record in words."""
    text = TEXTS["catalogue/all.yaml"].replace("do: Switch on.", "do: Is it free of warnings?")
    assert text != TEXTS["catalogue/all.yaml"]
    bay = Bay(Walk.begin(read_library({**TEXTS, "catalogue/all.yaml": text}), "first", "petrel-9"))
    bay.until("danger-look")
    bay.choose("no")
    bay.give(DoNow("cover-resistance"))
    bay.until("cover-resistance", Kind.READING)
    bay.give(DoNow("live-voltage"))
    prompt = bay.until("re-energise:1")
    assert isinstance(prompt.form, Tick)
    assert prompt.form.says
    with pytest.raises(AnswerError, match="does not say"):
        bay.give(Ticked("done", "done"))
    for unfit in ("", "no, a red one", "yesterday none", "insulation"):
        with pytest.raises(AnswerError, match=r"begin with `yes`.*switch off"):
            bay.give(Ticked("done", unfit))
    bay.give(Ticked("done", "Yes,  none"))
    assert [event.says for event in bay.events if isinstance(event, StepDone)][-1] == "Yes,  none"


@pytest.mark.parametrize("unfit", ["", "0 V", "no, it shows nothing", "12 V battery, 12.4 V"])
def test_a_tester_that_is_not_said_to_show_its_source_proves_nothing(unfit: str) -> None:
    """EN 50110-1: the tester is proven before and after; one that shows nothing makes every car look dead."""
    bay = Bay(Walk.begin(read_library(TEXTS), "first", "petrel-9"))
    bay.until("danger-look")
    bay.choose("no")
    bay.give(DoNow("cover-resistance"))
    for step in ("make-safe:5", "make-safe:7"):
        bay.until(step)
        with pytest.raises(AnswerError, match=r"begin with `yes`.*another tester"):
            bay.give(Ticked("done", unfit))
        bay.give(Ticked("done", "yes, 12 V battery, 12.4 V"))


def test_what_is_left_out_at_hand_back_is_said_and_recorded() -> None:
    text = TEXTS["catalogue/all.yaml"].replace("do: Read the codes.", "do: Are there no codes?")
    bay = Bay(Walk.begin(read_library({**TEXTS, "catalogue/all.yaml": text}), "first", "petrel-9"))
    bay.until("desk-question", answers={"danger-look": "no"})
    bay.choose("yes")
    bay.until("hand-back:0")
    with pytest.raises(AnswerError, match=r"`yes` or `left out`.*mend it first"):
        bay.give(Ticked("done", "one is present"))
    bay.give(Ticked("done", "left out: the reader is not here"))
    assert [event.says for event in bay.events if isinstance(event, StepDone)][-1].startswith("left out")


def test_a_car_that_is_still_isolated_is_not_told_to_be_switched_off() -> None:
    text = TEXTS["catalogue/all.yaml"].replace("do: Reconnect.", "do: Is nobody at the car?")
    bay = Bay(Walk.begin(read_library({**TEXTS, "catalogue/all.yaml": text}), "first", "petrel-9"))
    bay.until("danger-look")
    bay.choose("no")
    bay.give(DoNow("cover-resistance"))
    bay.until("cover-resistance", Kind.READING)
    bay.give(DoNow("live-voltage"))
    bay.until("re-energise:0")
    with pytest.raises(AnswerError, match="the car stays isolated") as refused:
        bay.give(Ticked("done", "no, two are"))
    assert "switch off" not in str(refused.value)
