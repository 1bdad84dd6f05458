"""Dangers in the owner's own words: heard with their endings, not where they are denied, asked for once by name."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import AnswerError
from diagtree.knowledge.words import TRIAGE
from diagtree.walk.answers import Back, Chosen
from diagtree.walk.context import Walk
from diagtree.walk.danger_words import dangers_told
from diagtree.walk.dangers import BY_ID, DANGERS
from diagtree.walk.event_json import event_from_json, event_to_json
from diagtree.walk.events import Looked, Noted
from diagtree.walk.fold import fold
from diagtree.walk.hearing import OWNERS_WORDS
from diagtree.walk.prompts import Choice, Kind
from tests.triage.owners import shipped
from tests.walk.bay import AT, Bay


@pytest.mark.parametrize(
    ("words", "dangers"),
    [
        ("it smokes and I got a shock from the car", ["smoke", "shock"]),
        ("Smells burnt at the socket of the car", ["burnt"]),
        ("it does not charge and smells burnt", ["burnt"]),
        ("won't charge smells of burning", ["burnt"]),
        ("the plug has melted, and the cable is damaged", ["burnt", "cracked"]),
        ("there's water in the inlet", ["wet"]),
        ("it stood in the water overnight", ["wet", "flooded"]),
        ("got flooded", ["flooded"]),
        ("the plug lay in a puddle", ["wet"]),
        ("I drove through a deep puddle", ["wet", "flooded"]),
        ("the car was standing in water", ["wet", "flooded"]),
        ("inlet was full of rain", ["wet"]),
        ("since the accident", ["crash"]),
        ("hit the kerb last week", ["crash"]),
        ("my hand TINGLES when I hold it", ["shock"]),
        ("the battery is very hot and it hisses", ["smoke"]),
        ("it says insulation fault", ["insulation-warning"]),
        ("not only smoke", ["smoke"]),
        ("no, it smokes", ["smoke"]),
        ("no idea why but there was smoke", ["smoke"]),
    ],
)
def test_a_danger_is_heard_in_its_words(words: str, dangers: list[str]) -> None:
    assert [one.danger for one in dangers_told((words,))] == dangers


@pytest.mark.parametrize(
    "words",
    [
        "", "it cuts out on the wall box", "no smoke", "no smoke, no burnt smell", "no shock or smoke or burnt smell",
        "I didn’t get a shock", "never any tingle", "nothing smells burnt", "there isn't any smoke", "without smoke",
        "it is not wet", "trips in wet weather", "since the new shock absorbers",
    ],
)  # fmt: skip
def test_what_is_denied_or_no_danger_is_not_heard(words: str) -> None:
    assert dangers_told((words,)) == ()


@given(st.text(max_size=60))
@settings(deadline=None, max_examples=100)
def test_any_text_is_read_and_what_is_heard_stands_in_it(text: str) -> None:
    for one in dangers_told((text, f"{text}. smoke")):
        assert one.danger in BY_ID
        assert one.words
    assert "smoke" in [one.danger for one in dangers_told((f"{text}\nsmoke",))]


def bay_at_desk(before: str = "") -> Bay:
    bay = Bay(Walk.begin(shipped(), TRIAGE, "petrel-1"))
    if before:
        bay.events.append(Noted(AT, before, OWNERS_WORDS))
        bay.state = fold(bay.walk, bay.events)
    return bay


def options(bay: Bay) -> list[str]:
    assert isinstance(bay.prompt.form, Choice)
    return [one.id for one in bay.prompt.form.options]


def test_a_look_that_found_nothing_is_challenged_by_the_words_and_both_are_kept() -> None:
    bay = bay_at_desk()
    bay.choose("nothing")
    bay.type(words="it smokes and I got a shock from the car")
    prompt = bay.prompt
    assert (prompt.kind, prompt.key) == (Kind.LOOK, "look-again")
    assert "`smokes`" in prompt.ask
    assert "`shock`" in prompt.ask
    assert options(bay) == ["nothing", "smoke", "shock"]
    assert isinstance(prompt.form, Choice)
    assert all(one.danger for one in prompt.form.options), "no bare number passes it"
    bay.choose("shock")
    assert (bay.prompt.kind, bay.prompt.key) == (Kind.DANGER, "shock")
    assert [event.found for event in bay.events if isinstance(event, Looked)] == ["nothing", "shock"]
    assert fold(bay.walk, [event_from_json(event_to_json(event)) for event in bay.events]) == bay.state
    bay.give(Back(1))
    assert bay.prompt.key == "look-again"
    bay.give(Back(1))
    assert bay.prompt.kind is Kind.COMPLAINT


def test_nothing_said_twice_goes_on_and_is_asked_no_third_time() -> None:
    bay = bay_at_desk()
    bay.choose("nothing")
    bay.type(words="breaker trips at home, smells burnt")
    with pytest.raises(AnswerError):
        bay.give(Chosen(("1",)))
    bay.choose("nothing")
    assert bay.prompt.kind is Kind.SORT


def test_words_from_before_the_look_are_named_at_the_look_and_challenge_it_at_once() -> None:
    bay = bay_at_desk("it smokes")
    assert bay.prompt.key == "look"
    assert any("`smokes`" in line for line in bay.prompt.about)
    bay.choose("nothing")
    assert (bay.prompt.key, options(bay)) == ("look-again", ["nothing", "smoke"])
    bay.choose("nothing")
    bay.type(words="it smokes", since="a tingle last week")
    assert (bay.prompt.key, options(bay)) == ("look-again", ["nothing", "shock"]), "only what was not asked yet"
    bay.choose("nothing")
    assert bay.prompt.kind is not Kind.LOOK


def test_words_without_a_danger_are_not_challenged() -> None:
    bay = bay_at_desk("it cuts out at home, no smoke")
    assert not any("says" in line for line in bay.prompt.about)
    bay.choose("nothing")
    assert bay.prompt.kind is Kind.COMPLAINT
    bay.type(words="it cuts out at home, no smoke")
    assert bay.prompt.kind is Kind.SORT


def test_what_the_tree_is_made_for_and_was_found_is_not_asked_again() -> None:
    bay = Bay(Walk.begin(shipped(), "heat-or-smell", "petrel-1"))
    bay.choose("burnt")
    bay.type(words="the plug smells burnt")
    assert bay.prompt.kind is not Kind.LOOK


@pytest.mark.parametrize("danger", [one.id for one in DANGERS])
def test_every_danger_tells_to_push_or_tow_and_not_to_drive(danger: str) -> None:
    text = " ".join(BY_ID[danger].stops)
    assert "Push or tow" in text
    assert "do not drive" in text
    assert text.rstrip().endswith(f"Call: {BY_ID[danger].call}.")


def test_a_shock_says_first_not_to_touch_the_car_and_that_the_point_goes_off_at_its_breaker() -> None:
    first, second, *_ = BY_ID["shock"].stops
    assert first.startswith("Do not touch the car")
    assert "off at its breaker" in second
