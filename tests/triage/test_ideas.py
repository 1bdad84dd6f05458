"""An owner's sentence as ideas: what a negation reaches, what is fine, and what numbers say."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.reason.complaint_english import BREAKS, EMPTY, FINE, IDEAS, NOT, NUMBERS, PLACES, POINTS, TROUBLE, TURNED
from diagtree.reason.complaint_expressions import EXPRESSIONS
from diagtree.reason.complaint_ideas import MEANING, ideas_of, plain_phrases
from tests.triage.owners import TO_TUNE_ON, sentences

KNOWN = frozenset({*MEANING, *EMPTY, *NOT, *FINE, *BREAKS})


def ideas(text: str) -> set[str]:
    return {idea.name for idea in ideas_of(text, KNOWN)}


@pytest.mark.parametrize(
    ("text", "fine"),
    [
        ("rapid is fine, it is only at home", {"fine rapid"}),
        ("home is fine, it is only on the rapid", {"fine home"}),
        ("works only on the wall box", {"fine home"}),
        ("only works on the wall box", {"fine home"}),
        ("no rapid charging, only the wall box", {"fine home"}),
        ("it fails only on the wall box", set()),
        ("it does not work on the wall box", set()),
        ("AC gives an error, rapid does not", {"fine rapid"}),
        ("the wall box fails, rapid doesn't", {"fine rapid"}),
        ("home does not charge, rapid does", {"fine rapid"}),
        ("home does not charge and rapid does not", set()),
        ("home ok rapid dead", {"fine home"}),
    ],
)
def test_what_is_said_to_be_fine(text: str, fine: set[str]) -> None:
    assert {idea for idea in ideas(text) if idea.startswith("fine ")} == fine


@pytest.mark.parametrize(
    ("text", "turned"),
    [
        ("the plug does not come out", {"not comeout"}),
        ("it doesn't stop, it is just slow", {"not stop"}),
        ("it stops, no message", set()),
        ("it will not lock", {"not latch"}),
        ("no click, then it starts", {"not click"}),
        ("not since the long cold and wet winter did it ever start", set()),
    ],
)
def test_a_negation_reaches_the_few_words_after_it(text: str, turned: set[str]) -> None:
    assert {idea.removeprefix("not ") for idea in ideas(text) if idea.startswith("not ")} & TURNED == {
        idea.removeprefix("not ") for idea in turned
    }


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("after ten seconds", {"soon"}),
        ("within a minute", {"soon"}),
        ("on for half a minute", {"soon"}),
        ("after twenty minutes", {"later"}),
        ("after 45min", {"later"}),
        ("half an hour", {"later"}),
        ("1,5 hours", {"later"}),
        ("only 2 kW", {"wallboxpower"}),
        ("only 3.6kW", {"wallboxpower"}),
        ("only 40 kilowatts", {"rapidpower"}),
        ("at 80 %", {"level"}),
        ("at ninety", {"level"}),
        ("80 miles", set()),
        ("the 12V", {"small12"}),
        ("the twelve-volt one", {"small12"}),
        ("never more than thirty kW", {"rapidpower"}),
        ("with the 3-pin lead", {"granny"}),
    ],
)
def test_what_numbers_say(text: str, said: set[str]) -> None:
    of_numbers = {"soon", "later", "wallboxpower", "rapidpower", "level", "small12", "granny"}
    assert ideas(text) & of_numbers == said


@pytest.mark.parametrize(
    "text", ["neither rapid nor home works", "no charge on home, work and rapid alike", "rapid, level 2, nothing works"]
)
def test_neither_here_nor_there_is_everywhere(text: str) -> None:
    said = ideas(text)
    assert "every" in said
    assert not {"rapid", "not rapid", "home", "not home"} & said


@pytest.mark.parametrize(
    "text", ["works at home, not at the office", "home is fine, work is not", "granny lead fine but not the wall box"]
)
def test_here_and_not_there_is_some_points_only(text: str) -> None:
    assert "some" in ideas(text)


@pytest.mark.parametrize(("text", "other"), [
    ("it charges at the next one", True), ("it refuses at the next", True), ("the post next to it works", True),
    ("the next morning it was flat", False), ("flat again next day", False),
])  # fmt: skip
def test_the_next_is_another_point_but_not_the_next_day(text: str, other: bool) -> None:
    assert bool({"other", "fine other"} & ideas(text)) is other


@pytest.mark.parametrize("text", ["on, off, on, off", "starts, quits, starts, quits", "over and over"])
def test_what_is_told_twice_happens_again(text: str) -> None:
    assert "again" in ideas(text)


def test_an_expression_of_words_that_stand_for_others_is_found_and_told_as_typed() -> None:
    """Twelve is a number, a twelve-volt thing the small battery, and never more than so many kilowatts slow."""
    said = {idea.name: idea.word for idea in ideas_of("twelve-volt battery; never more than thirty kW", KNOWN)}
    assert said["small12"] == "twelve volt battery"
    assert said["slow"] == "never more than"
    assert said["rapidpower"] == "thirty"


@given(st.sampled_from(sentences(TO_TUNE_ON)), st.sampled_from(["no idea why", "not sure why", "no joke", "not good"]))
@settings(deadline=None, max_examples=100)
def test_a_short_no_beside_it_turns_nothing(sentence: tuple[str, str], aside: str) -> None:
    plain, with_aside = ideas(sentence[1]), ideas(f"{sentence[1]}; {aside}")
    assert plain <= with_aside
    assert not {idea for idea in with_aside - plain if idea.startswith(("not ", "fine "))}


@given(st.lists(st.sampled_from([text for _, text in sentences(TO_TUNE_ON)]), min_size=1, max_size=6))
@settings(deadline=None, max_examples=50)
def test_phrases_are_made_plain_together_as_alone(texts: list[str]) -> None:
    assert plain_phrases(texts) == [plain_phrases([text])[0] for text in texts]


@given(st.text(max_size=80))
@settings(deadline=None, max_examples=200)
def test_any_text_is_heard_without_a_mistake(text: str) -> None:
    assert all(idea.name and idea.word for idea in ideas_of(text, KNOWN))


def test_the_lists_name_ideas_that_exist() -> None:
    assert set(IDEAS) >= PLACES | POINTS | TROUBLE | TURNED
    words = [word for some in IDEAS.values() for word in some.split()]
    doubled = {word for word in words if words.count(word) > 1}
    assert not doubled, f"in two ideas, of which only the last counts: {sorted(doubled)}"
    assert EMPTY.isdisjoint(MEANING), "what says nothing is no idea"


def test_every_word_that_stands_for_an_expression_is_known() -> None:
    """Else it would count as a word in no list, heard by nobody who does not use the same expression."""
    for expression, words in EXPRESSIONS:
        for word in words.replace(r"\g<0>", "").split():
            if word.isalnum():
                meant = word in MEANING or word in EMPTY | NOT | FINE | BREAKS or word in NUMBERS or word.isdigit()
                assert meant or word in ALONE, f"{expression}: {word}"


ALONE = {"nomessage", "dark", "doors", "minutes", "kilowatts"}
"""Words that stand for an expression and for themselves: no list of ideas has them."""
