"""Answers files as text: what they say, and every mistake at its place; nothing makes the reader fail."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import KnowledgeError
from diagtree.knowledge.place import Finding
from diagtree.terminal.answers_text import AnswersFile, read_answers

WHOLE = """
vehicle: petrel-2
look: nothing
complaint: {words: stops, cuts_out_after: 10}
already: {open: [rear-bench, undertray], isolated: no}
answers: {a: no, b: not-done, c: {resistance: 1.2 M, inlet_temperature: 18}}
procedures:
  make-safe: [{secure: shift lead, absence: [31, 0.1]}, {absence: [0.4, 0.1]}]
notes: {c: 'pin [red]'}
facts: {inlet.dc_sensor: ntc r25=10000 beta=3435}
go-on: yes
correction: new inlet
proof: [{minutes: 45, result: partly}, {minutes: 60, result: fixed}]
remaining: [test:a]
"""


def test_everything_a_file_can_say() -> None:
    file = read_answers(WHOLE, "a.yaml")
    assert file.vehicle == "petrel-2"
    assert (file.answers["a"].word, file.answers["b"].word) == ("no", "not-done"), "`no` stays text"
    assert {name: said.text for name, said in file.answers["c"].readings.items()} == {
        "resistance": "1.2 M", "inlet_temperature": "18",
    }  # fmt: skip
    first, second = file.procedures["make-safe"]
    assert first.says["secure"].text == "shift lead"
    assert [[said.text for said in run.absence] for run in (first, second)] == [["31", "0.1"], ["0.4", "0.1"]]
    assert [said.text for said in file.already["open"]] == ["rear-bench", "undertray"]
    assert file.notes["c"].text == "pin [red]"
    assert [one["result"].text for one in file.proof] == ["partly", "fixed"]
    assert file.choices["correction"].text == "new inlet"
    assert str(file.answers["c"].readings["resistance"].at) == "a.yaml:6:47"


@pytest.mark.parametrize(
    ("text", "place", "said"),
    [
        ("", "a.yaml:1:1", "empty"),
        ("look: nothing\nanswer: {b: no}\n", "a.yaml:2:1", "did you mean `answers`"),
        ("answers: {a: no, a: yes}\n", "a.yaml:1:18", "second time"),
        ("answers: [a, b]\n", "a.yaml:1:10", "a mapping"),
        ("answers: {a: [yes]}\n", "a.yaml:1:14", "a text or a number"),
        ("answers: {a: }\n", "a.yaml:1:14", "a text or a number"),
        ("answers: {a: &x no, b: *x}\n", "a.yaml:1:24", "alias"),
        ("procedures: {make-safe: {absence: [{a: 1}]}}\n", "a.yaml:1:36", "a text or a number"),
        ("- a\n", "a.yaml:1:1", "a mapping"),
    ],
)
def test_every_mistake_is_told_at_its_place(text: str, place: str, said: str) -> None:
    with pytest.raises(KnowledgeError) as caught:
        read_answers(text, "a.yaml")
    told = [one for one in caught.value.findings if isinstance(one, Finding)]
    assert any(str(one.place) == place and said in one.message for one in told), [str(one) for one in told]


@settings(deadline=None, max_examples=400)
@given(text=st.one_of(st.text(max_size=80), st.text("abc:,{}[]'\"-\n #&*!no0.", max_size=60)))
def test_no_text_makes_the_reader_fail(text: str) -> None:
    found: AnswersFile | tuple[object, ...]
    try:
        found = read_answers(text, "a.yaml")
    except KnowledgeError as error:
        found = error.findings
    assert found, "what it says, or every mistake"


@settings(deadline=None, max_examples=200)
@given(cut=st.integers(0, len(WHOLE)), put=st.text("{}[]:,'\"\n -&*x9", max_size=3), drop=st.integers(0, 6))
def test_no_slip_in_a_good_file_makes_the_reader_fail(cut: int, put: str, drop: int) -> None:
    found: AnswersFile | tuple[object, ...]
    try:
        found = read_answers(WHOLE[:cut] + put + WHOLE[cut + drop :], "a.yaml")
    except KnowledgeError as error:
        found = error.findings
    assert found, "what it says, or every mistake"
