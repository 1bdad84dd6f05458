"""From prompts to answers, with the lines that a person would type."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import AnswerError
from diagtree.knowledge.files import load
from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.interrupted import Interrupted
from diagtree.terminal.keywords import key_line, keywords
from diagtree.walk.answers import (
    Answer,
    Back,
    Changed,
    Chosen,
    DidNot,
    DoNow,
    Leave,
    NotDone,
    Note,
    RecordTest,
    Ticked,
    Typed,
)
from diagtree.walk.context import Walk
from diagtree.walk.prompts import Choice, Field, Fields, Kind, Option, Prompt, Tick
from diagtree.walk.respond import fits, respond
from tests.terminal.samples import ABSENCE, LOOK, READING, SECURE, YES_NO, ScriptFace, scene
from tests.walk.bay import AT, Bay, wandering


def answer(prompt: Prompt, *lines: str, **about: object) -> tuple[Answer, ScriptFace]:
    face = ScriptFace(*lines)
    given = Dialogue(face).answer(prompt, scene(**about))  # type: ignore[arg-type]
    assert face.rest == [], "typed lines were left over"
    return given, face


@pytest.mark.parametrize(
    ("prompt", "lines", "expected"),
    [
        (YES_NO, ["1"], Chosen(("yes",))),
        (YES_NO, ["2."], Chosen(("no",))),
        (YES_NO, ["No"], Chosen(("no",))),
        (YES_NO, ["back"], Back(1)),
        (YES_NO, ["back 3"], Back(3)),
        (YES_NO, ["b 2"], Back(2)),
        (YES_NO, ["x", "no second point here"], NotDone("no second point here")),
        (YES_NO, ["not-done nobody to ask"], NotDone("nobody to ask")),
        (YES_NO, ["note", "[red] plug"], Note("[red] plug")),
        (YES_NO, ["r pin green"], Note("pin green")),
        (YES_NO, ["leave"], Leave()),
        (YES_NO, ["q"], Leave()),
        (YES_NO, ["do sensor"], DoNow("sensor")),
        (YES_NO, ["do", "burnt"], DoNow("looks-burnt")),
        (LOOK, ["1"], Chosen(("nothing",))),
        (LOOK, ["nothing"], Chosen(("nothing",))),
        (LOOK, ["none"], Chosen(("nothing",))),
        (LOOK, ["No"], Chosen(("nothing",))),
        (LOOK, ["smoke, burnt"], Chosen(("smoke", "burnt"))),
        (READING, ["1.2 M", "18"], Typed({"resistance": "1.2 M", "temperature": "18"})),
        (READING, ["OL", "-4,5"], Typed({"resistance": "OL", "temperature": "-4,5"})),
        (READING, ["12", "back", "13", "18"], Typed({"resistance": "13", "temperature": "18"})),
        (READING, ["back"], Back(1)),
        (SECURE, ["shift lead", "done"], Ticked("done", "shift lead")),
        (SECURE, ["did-not", "key was in the car"], DidNot("key was in the car")),
        (ABSENCE, ["0.4", "0,1"], Typed({"a": "0.4", "b": "0,1"})),
    ],
)
def test_what_is_typed_becomes_this_answer(prompt: Prompt, lines: list[str], expected: Answer) -> None:
    assert answer(prompt, *lines)[0] == expected


def test_who_leaves_before_anything_is_begun_just_leaves() -> None:
    """At the choice of a tree or a car there is no case yet, and nothing to go back to."""
    options = [Option("petrel-2", "Petrel"), Option("none", "another car")]
    face = ScriptFace("back", "2")
    assert Dialogue(face).choose("Which car is it?", options) == "none"
    assert "nothing to go back to" in face.text
    with pytest.raises(Interrupted, match="nothing was begun"):
        Dialogue(ScriptFace("q")).choose("Which car is it?", options)


@pytest.mark.parametrize("word", ["b", "back", "back 2", "h", "?", "w", "x", "note pin is green", "c", "o", "d", "u"])
def test_before_a_walk_every_key_word_is_answered_in_words(word: str) -> None:
    face = ScriptFace(word, "1")
    assert Dialogue(face).choose("Which car is it?", [Option("none", "another car")]) == "none"
    assert "leave" in face.text
    assert "none of the answers" not in face.text


PROVE = Prompt(
    Kind.PROCEDURE, "make-safe:5", "Make safe", "Prove the tester. Does it show the source's voltage?",
    Tick(says="`yes` if it does", good=("yes",)), did_not=True,
)  # fmt: skip


@pytest.mark.parametrize("said", ["yes, 12 V battery, 12.6 V", "no, dark", "done"])
def test_a_question_that_wants_a_yes_is_confirmed_by_it_and_refused_without(said: str) -> None:
    """One answer, typed in full: no word more confirms it, and nothing but a yes passes."""
    given, _ = answer(PROVE, said)
    assert given == Ticked("done", said)
    if said.startswith("yes"):
        fits(PROVE, given)
    else:
        with pytest.raises(AnswerError, match="`yes`"):
            fits(PROVE, given)


def test_lines_from_a_pipe_still_confirm_with_the_word() -> None:
    face = ScriptFace("yes, 12 V battery", "done")
    assert Dialogue(face, attended=False).answer(PROVE, scene()) == Ticked("done", "yes, 12 V battery")
    assert face.rest == []


@pytest.mark.parametrize(
    ("prompt", "wrong", "right", "said"),
    [
        (YES_NO, "", "1", "Enter alone is no answer"),
        (YES_NO, "3", "1", "a number from 1 to 2"),
        (YES_NO, "y", "1", "`y` is none of the answers"),
        (YES_NO, "n", "1", "`n` is none of the answers"),
        (YES_NO, "yess", "yes", "did you mean `yes`"),
        (YES_NO, "1,2", "1", "none of the answers"),
        (YES_NO, "did-not", "1", "no step of making safe"),
        (LOOK, "2", "nothing", "1 or one of the words smoke, burnt in full"),
        (LOOK, "smok", "nothing", "did you mean `smoke`"),
        (LOOK, "nothing, smoke", "nothing", "Type `nothing` alone"),
        (LOOK, "not-done", "nothing", "cannot be left out"),
        (SECURE, "", "me", "Enter alone is no answer"),
    ],
)
def test_what_cannot_be_taken_is_told_and_asked_again(prompt: Prompt, wrong: str, right: str, said: str) -> None:
    more = ["done"] if prompt is SECURE else []
    _, face = answer(prompt, wrong, right, *more)
    assert said in face.text


def test_a_wrong_reading_is_told_at_its_own_line() -> None:
    given, face = answer(READING, "1.2.3", "1200", "18")
    assert given == Typed({"resistance": "1200", "temperature": "18"})
    assert face.labels == ["Resistance (ohm)", "Resistance (ohm)", "Temperature (degC)"]


def test_a_reading_of_no_voltage_takes_no_prefix() -> None:
    _, face = answer(ABSENCE, "0.4 m", "0.4", "0.1")
    assert "plain number" in face.text


def test_a_step_to_do_takes_its_word_only_in_full() -> None:
    _, face = answer(SECURE, "me", "yes", "don", "done")
    assert face.text.count("does not confirm it") == 2


def test_why_and_help_are_answered_without_leaving_the_question() -> None:
    given, face = answer(YES_NO, "why", "?", "help", "1")
    assert given == Chosen(("yes",))
    assert "parts the charge point" in face.text
    assert face.text.count("save") >= 2
    assert face.text.count(YES_NO.ask) == 4, "the question stands above the line again"


def test_a_note_between_two_readings_loses_neither() -> None:
    face = ScriptFace("1.2 M", "note pin is green")
    dialogue = Dialogue(face)
    assert dialogue.answer(READING, scene()) == Note("pin is green")
    face.rest.append("18")
    assert dialogue.answer(READING, scene()) == Typed({"resistance": "1.2 M", "temperature": "18"})
    assert "1.2 M (as typed before)" in face.text


def test_readings_half_typed_are_forgotten_when_the_answer_is_taken_back() -> None:
    face = ScriptFace("1.2 M", "changed", "yes", "nothing", "someone jumped it")
    dialogue = Dialogue(face)
    assert dialogue.answer(READING, scene()) == Changed(powered=True, note="someone jumped it")
    face.rest.extend(["900", "18"])
    assert dialogue.answer(READING, scene()) == Typed({"resistance": "900", "temperature": "18"})


def test_changed_asks_what_was_opened_and_closed() -> None:
    given, _ = answer(YES_NO, "changed", "2", "cover", "2", "colleague", open_now=("bench",))
    assert given == Changed(powered=False, opened=("cover",), closed=("bench",), note="colleague")


def test_nothing_changed_is_not_a_change() -> None:
    given, face = answer(YES_NO, "changed", "no", "nothing", "1")
    assert given == Chosen(("yes",))
    assert "nothing was changed" in face.text


def test_another_test_is_recorded_with_its_readings() -> None:
    given, _ = answer(YES_NO, "other sensor", "OL", "21", "me, before lunch")
    assert given == RecordTest("sensor", values={"resistance": "OL", "temperature": "21"}, note="me, before lunch")


def test_another_test_is_recorded_with_its_outcome_and_a_danger_in_full() -> None:
    given, face = answer(YES_NO, "other", "looks-burnt", "2", "yes", "owner")
    assert given == RecordTest("looks-burnt", outcome="yes", note="owner")
    assert "the word `yes` in full" in face.text


def test_a_test_answered_before_asks_whether_that_was_a_mistake() -> None:
    given, face = answer(YES_NO, "other other-point", "yes", "mistake", "me", answered={"other-point": "no"})
    assert given == RecordTest("other-point", outcome="yes", note="me", was_mistake=True)
    assert "answered before: no" in face.text


def test_back_inside_a_key_word_returns_to_the_question() -> None:
    given, _ = answer(YES_NO, "note", "back", "2")
    assert given == Chosen(("no",))


def test_leave_inside_a_key_word_leaves() -> None:
    assert answer(YES_NO, "other", "leave")[0] == Leave()


def test_end_of_input_interrupts() -> None:
    with pytest.raises(Interrupted):
        Dialogue(ScriptFace("note")).answer(YES_NO, scene())


def test_after_a_refusal_only_the_question_is_shown_again() -> None:
    face = ScriptFace("12", "18")
    dialogue = Dialogue(face)
    dialogue.answer(READING, scene())
    before = len(face.shown)
    dialogue.refused("too hot to be true; measure again")
    face.rest.extend(["12", "19"])
    dialogue.answer(READING, scene())
    again = "\n".join(block.first + block.text for block in face.shown[before:])
    assert "too hot to be true" in again
    assert READING.ask in again
    assert "Do not back-probe" not in again


def test_optional_values_are_left_out_by_a_word_never_by_enter() -> None:
    prompt = Prompt(
        Kind.PROOF, "proof", "Proof", "What was seen?",
        Fields((Field("minutes", "Minutes", "min"), Field("cut", "Cut out?", number=False, words=("yes", "no")),
                Field("power", "Power", "kW", optional=True))),
    )  # fmt: skip
    given, face = answer(prompt, "45", "perhaps", "No", "", "none")
    assert given == Typed({"minutes": "45", "cut": "No"})
    assert "type yes or no" in face.text
    assert face.labels[-1] == "Power (kW), or `none`"


@pytest.mark.parametrize(("not_done", "way"), [(True, "`not-done` leaves it out"), (False, "`leave` comes back to it")])
def test_a_condition_that_does_not_hold_names_the_way_on(not_done: bool, way: str) -> None:
    prompt = Prompt(
        Kind.CONDITIONS, "sensor", "Before this test", "Does all of this hold? Type `yes` when it does.", Tick("yes"),
        how=("The car has stood for an hour.",), not_done=not_done, test="sensor",
    )  # fmt: skip
    given, face = answer(prompt, "no", "yes")
    assert given == Ticked("yes", "")
    assert f"`no` does not confirm it; type `yes` in full once it is so, else {way}." in face.text


def test_not_done_is_offered_just_where_it_is_taken() -> None:
    """Over walks of shipped trees by whoever answers at random: the key line and the session agree at every prompt."""
    taken = set()
    for tree in ("ac-fails-dc-works", "insulation-warning"):
        for seed in range(4):
            random, bay = Random(seed), Bay(Walk.begin(load(), tree, "petrel-2"))
            for _ in range(40):
                prompt = bay.open_prompt
                if prompt is None:
                    break
                try:
                    takes = bool(respond(bay.walk, bay.state, NotDone("no time"), AT))
                except AnswerError:
                    takes = False
                assert takes == ("not-done" in key_line(prompt, narrow=False)), prompt
                assert takes == ("not-done" in key_line(prompt, narrow=True)), prompt
                taken.add(takes)
                try:
                    bay.give(wandering(prompt, random))
                except AnswerError:
                    break
    assert taken == {True, False}


def test_short_forms_never_look_like_an_answer() -> None:
    shorts = [keyword.short for keyword in keywords()]
    assert len(set(shorts)) == len(shorts)
    assert not set(shorts) & set("ynl0123456789")
    words = [keyword.word for keyword in keywords()]
    assert {"back", "why", "not-done", "note", "changed", "other", "do", "did-not", "leave", "help"} == set(words)


def test_key_lines_fit_their_screens() -> None:
    assert len(key_line(YES_NO, narrow=False)) <= 80
    assert len(key_line(YES_NO, narrow=True)) <= 40
    assert "did-not" not in key_line(YES_NO, narrow=False)
    assert "did-not" in key_line(ABSENCE, narrow=False)


@settings(deadline=None, max_examples=300)
@given(
    lines=st.lists(st.text(max_size=12), max_size=6),
    prompt=st.sampled_from([YES_NO, LOOK, READING, ABSENCE, SECURE]),
)
def test_no_text_makes_a_dialogue_fail(lines: list[str], prompt: Prompt) -> None:
    face = ScriptFace(*(line.strip() for line in lines))
    try:
        given = Dialogue(face).answer(prompt, scene())
    except Interrupted:
        return
    assert given is not None


@given(option=st.from_regex(r"[a-z]{1,8}", fullmatch=True), junk=st.text(max_size=3))
def test_a_danger_is_only_ever_taken_by_its_whole_word(option: str, junk: str) -> None:
    from diagtree.terminal.keywords import find

    if find(option, scene()) or junk.strip().casefold() == option or find(junk.strip(), scene()):
        return
    form = Choice((Option("zz-safe", "safe"), Option(option, "danger", danger=True)))
    prompt = Prompt(Kind.OUTCOME, "x", "x", "x", form)
    try:
        given = Dialogue(ScriptFace(junk.strip(), "1")).answer(prompt, scene())
    except Interrupted:
        return
    assert given == Chosen(("zz-safe",))


COMPLAINT = Prompt(
    kind=Kind.COMPLAINT,
    key="complaint",
    heading="The complaint",
    ask="What does the owner say?",
    form=Fields(
        (
            Field("words", "the owner's words", number=False, optional=True),
            Field("cuts_out_after", "minutes until it stops", "minute", optional=True, counts=True),
            Field("since", "since when", number=False, optional=True),
        )
    ),
)


@pytest.mark.parametrize(
    ("lines", "answered"),
    [
        (["why"], False),
        (["help"], False),
        (["other", "back"], False),
        (["note he was in a hurry"], True),
        (["changed", "yes", "nothing", "jumped"], True),
    ],
)
def test_a_key_word_never_loses_what_the_owner_said(lines: list[str], answered: bool) -> None:
    face = ScriptFace("it stops", "none", *lines)
    dialogue = Dialogue(face)
    if answered:  # the session takes the note or the change, and asks again
        assert isinstance(dialogue.answer(COMPLAINT, scene()), Changed | Note)
    face.rest.append("May")
    assert dialogue.answer(COMPLAINT, scene()) == Typed({"words": "it stops", "since": "May"})
    assert "The owner's words: it stops (as typed before)" in face.text
    assert "Minutes until it stops: none (as typed before)" in face.text
    assert face.rest == [], "what was left out is not asked for again"


@pytest.mark.parametrize("word", ["none", "None", "don't know", "don\N{RIGHT SINGLE QUOTATION MARK}t know", "unknown"])
def test_what_the_owner_does_not_know_is_left_out(word: str) -> None:
    given, _ = answer(COMPLAINT, "it stops", word, word)
    assert given == Typed({"words": "it stops"})


def test_what_the_owner_said_is_kept_over_a_step_back() -> None:
    face = ScriptFace("it stops", "back 2")
    dialogue = Dialogue(face)
    assert dialogue.answer(COMPLAINT, scene()) == Back(2)
    face.rest.append("1")
    assert dialogue.answer(LOOK, scene()) == Chosen(("nothing",))
    face.rest.extend(["40", "May"])
    assert dialogue.answer(COMPLAINT, scene()) == Typed({"words": "it stops", "cuts_out_after": "40", "since": "May"})


def test_what_the_owner_said_before_stands_again_by_a_word() -> None:
    face = ScriptFace("it stops", "40", "none")
    dialogue = Dialogue(face)
    first = dialogue.answer(COMPLAINT, scene())
    face.rest.extend(["it trips", "same", "same", "May"])  # `same` is a text like any where nothing was said
    assert dialogue.answer(COMPLAINT, scene()) == Typed({"words": "it trips", "cuts_out_after": "40", "since": "same"})
    assert first == Typed({"words": "it stops", "cuts_out_after": "40"})
    assert "The owner's words, or `none`, or `same`: it stops" in face.labels
    assert face.rest == ["May"]


def test_minutes_below_none_are_told_at_their_own_line() -> None:
    given, face = answer(COMPLAINT, "it stops", "-5", "OL", "a while", "5", "none")
    assert given == Typed({"words": "it stops", "cuts_out_after": "5"})
    assert face.text.count("is no number from 0 upwards") == 3


def test_back_in_a_form_returns_to_the_line_before_even_where_it_was_left_out() -> None:
    given, _ = answer(COMPLAINT, "it stops", "none", "back", "7", "none")
    assert given == Typed({"words": "it stops", "cuts_out_after": "7"})


@pytest.mark.parametrize("unfit", ["done", "Nobody", "no one", "-"])
def test_who_holds_the_key_is_asked_again_at_once_where_nobody_is_named(unfit: str) -> None:
    given, face = answer(SECURE, unfit, "shift lead", "done")
    assert given == Ticked("done", "shift lead")
    assert f"`{unfit}`" in face.text
    with pytest.raises(AnswerError):
        fits(SECURE, Ticked("done", unfit))


def test_minutes_below_nought_are_refused_at_their_own_line() -> None:
    minutes = Field("minutes", "minutes charged", "minute", counts=True)
    cut_out = Field("cut_out", "did it cut out", number=False)
    proof = Prompt(Kind.PROOF, "x", "Proof", "Charge.", Fields((minutes, cut_out)))
    given, face = answer(proof, "-5", "25", "no")
    assert given == Typed({"minutes": "25", "cut_out": "no"})
    assert "no number from 0 upwards" in face.text
