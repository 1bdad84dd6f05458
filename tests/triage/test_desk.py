"""The desk in the session: words, confirmation or questions, answers carried over, evidence only where it bears."""

from __future__ import annotations

from contextlib import suppress
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.check.rule import rules
from diagtree.check.run import check_library
from diagtree.errors import AnswerError
from diagtree.knowledge.library import Library, read_library
from diagtree.knowledge.words import TRIAGE, Where
from diagtree.reason.complaint_words import cause_of_complaint
from diagtree.reason.evidence import Answered, bearing, posterior
from diagtree.walk.answers import Answer, Back, Chosen
from diagtree.walk.context import Walk
from diagtree.walk.event_json import event_from_json, event_to_json
from diagtree.walk.events import Answered as Event
from diagtree.walk.fold import fold
from diagtree.walk.prompts import Choice, Kind, Prompt
from diagtree.walk.respond import resume
from diagtree.walk.route import belief, route
from tests.triage.owners import complaints, shipped
from tests.walk.bay import AT, Bay, wandering
from tests.walk.knowledge import WITH_TRIAGE

DESK = """\
tests:
  only-at-the-desk: {ask: Is it raining?, place: reception, minutes: 1, outcomes: [no, yes, hail], healthy: no,
    mistake: 5, source: common practice}
"""
TREE = WITH_TRIAGE["triage.yaml"].replace("start: desk-question\nsteps:\n", "start: only-at-the-desk\nsteps:\n"
       "  only-at-the-desk: {then: {no: desk-question, yes: desk-question, hail: desk-question}}\n")  # fmt: skip
TEXTS = {**WITH_TRIAGE, "catalogue/desk.yaml": DESK, "triage.yaml": TREE}
NEVER_CONCLUDED = [rule for rule in rules() if rule.id == "cause-never-concluded"]


def desk(library: Library | None = None, vehicle: str | None = "petrel-9") -> Bay:
    bay = Bay(Walk.begin(library or read_library(TEXTS), TRIAGE, vehicle))
    bay.choose("nothing")
    return bay


def test_the_words_offer_complaints_and_confirmed_they_hand_over() -> None:
    bay = desk()
    bay.type(words="Well, it STOPS all the time", since="yesterday")
    prompt = bay.prompt
    assert prompt.kind is Kind.SORT
    assert isinstance(prompt.form, Choice)
    assert [option.id for option in prompt.form.options] == ["first", "questions"]
    assert "`stops`" in prompt.form.options[0].text.lower()
    bay.choose("first")
    assert (bay.prompt.kind, bay.prompt.key) == (Kind.OUTCOME, "danger-look")
    assert route(bay.walk, bay.state).tree == "first"


def test_words_that_mean_nothing_go_to_the_questions_and_so_does_the_adviser() -> None:
    bay = desk()
    bay.type(words="hello")
    assert bay.prompt.key == "only-at-the-desk"
    other = desk()
    other.type(words="it stops")
    other.choose("questions")
    assert other.prompt.key == "only-at-the-desk"


def test_a_confirmed_complaint_is_taken_back_like_any_answer() -> None:
    bay = desk()
    bay.type(words="it stops")
    bay.choose("first")
    bay.give(Back(1))
    assert bay.prompt.kind is Kind.SORT


def test_what_is_open_on_the_car_is_asked_in_the_bay_not_at_the_desk() -> None:
    bay = desk()
    bay.type(words="it stops")
    bay.choose("first")
    bay.until(Kind.ALREADY, answers={"desk-question": "no"})
    assert [key for kind, key in bay.asked if kind is Kind.OUTCOME] == ["danger-look", "desk-question"]


def test_what_was_asked_at_the_desk_is_in_the_events_and_read_back() -> None:
    bay = desk()
    bay.type(words="it stops", since="since the storm", shown="red light")
    again = fold(bay.walk, [event_from_json(event_to_json(event)) for event in bay.events])
    assert again == bay.state
    complained = route(bay.walk, bay.state).complained
    assert complained is not None
    assert complained.also == {"since": "since the storm", "shown": "red light"}


@pytest.mark.parametrize("outcome", ["no", "yes", "hail"])
def test_an_answer_that_bears_on_nothing_in_the_tree_is_kept_and_is_no_evidence(outcome: str) -> None:
    """Counted, `hail` would be 1/3 for something-else and next to nothing for every listed cause."""
    bay = desk()
    bay.type(words="")
    bay.choose(outcome)
    bay.choose("yes")
    assert bay.prompt.kind is Kind.HAND_OVER
    bay.choose("go-on")
    found = route(bay.walk, bay.state)
    first = bay.walk.tree_of("first")
    assert found.tree == "first"
    told = [item.test for item in bay.state.items if isinstance(item, Event)]
    assert told == ["only-at-the-desk", "desk-question"]
    only = posterior(first.causes, [Answered("desk-question", "yes")], bay.walk.catalogue)
    assert belief(bay.walk, found).chances == pytest.approx(only.chances)
    assert [one.test for one in bearing(first, found.evidence, bay.walk.catalogue)] == ["desk-question"]
    every = posterior(first.causes, found.evidence, bay.walk.catalogue)
    if outcome == "hail":
        assert every.chances["something-else"] > 5 * only.chances["something-else"], "what it would be otherwise"


@pytest.mark.parametrize("tree", [tree.id for tree in complaints()])
@given(seed=st.integers(0, 10**6))
@settings(deadline=None, max_examples=4)
def test_nothing_is_asked_twice_from_the_desk_through_the_bay(tree: str, seed: int) -> None:
    """Any answers, any complaint: words confirmed or questions asked, left at the bay, gone on with there."""
    random = Random(seed)
    library = shipped()
    bay = desk(library, random.choice([None, *library.profiles]))
    bay.type(words=library.trees[tree].title)
    if bay.prompt.kind is Kind.LOOK:  # a title that names a danger
        bay.choose("nothing")
    assert bay.prompt.kind is Kind.SORT
    offered = [option.id for option in bay.prompt.form.options] if isinstance(bay.prompt.form, Choice) else []
    bay.choose(tree if tree in offered and random.random() < 0.7 else "questions")
    answered: set[str] = set()
    came_back = False
    for _ in range(80):
        prompt = bay.open_prompt
        if prompt is None or prompt.kind in (Kind.CONCLUSION, Kind.REFER, Kind.DANGER, Kind.VOLTAGE_FOUND):
            break
        if prompt.kind is Kind.ALREADY and not came_back:  # the desk is left; another day, in the bay
            came_back = True
            bay.events += resume(bay.state, AT)
            bay.state = fold(bay.walk, bay.events)
        assert prompt.kind not in (Kind.OUTCOME, Kind.READING) or prompt.key not in answered, f"{prompt.key} twice"
        with suppress(AnswerError):  # readings that cannot be judged: typed once more
            bay.give(_answer(bay, prompt, random))
        answered = {item.test for item in bay.state.items if isinstance(item, Event)}


def _answer(bay: Bay, prompt: Prompt, random: Random) -> Answer:
    if prompt.kind is Kind.HAND_OVER:
        return Chosen(("go-on",))
    if prompt.kind is Kind.ALREADY:
        return Chosen(("nothing",))
    if prompt.kind is Kind.OUTCOME:
        test = bay.walk.test(prompt.key)
        return Chosen((random.choice([one for one in test.outcome_ids() if one not in test.stop]),))
    return wandering(prompt, random)


def test_triage_hands_over_to_every_complaint_and_asks_at_the_desk_only() -> None:
    library = shipped()
    triage, catalogue = library.require(TRIAGE, None)
    ends = {getattr(target, "tree", "") for step in triage.steps.values() for target in step.then.values()}
    for tree in complaints():
        assert tree.id in ends, f"no answers lead to {tree.id}"
        assert cause_of_complaint(tree.id) in triage.causes
    assert {catalogue.tests[step.test].place for step in triage.steps.values()} == {Where.RECEPTION}


def test_the_questions_alone_take_under_three_minutes_on_every_way() -> None:
    library = shipped()
    triage, catalogue = library.require(TRIAGE, None)
    longest: dict[str, float] = {}

    def minutes(step: str) -> float:
        if step not in longest:
            own = catalogue.tests[triage.steps[step].test].minutes
            after = triage.steps[step].then.values()
            longest[step] = own + max(minutes(one) if isinstance(one, str) else 0 for one in after)
        return longest[step]

    assert minutes(triage.start) <= 3


def test_handing_over_concludes_the_complaint_and_one_that_is_never_handed_over_is_told() -> None:
    complaints_listed = """\
causes:
  is-first: {name: First, where: outside, shows: {only-at-the-desk: {yes: 90, no: 10}}, source: x,
    advise: {do: Go on., minutes: 1}}
  is-second: {name: Second, where: outside, shows: {only-at-the-desk: {hail: 90, no: 10}}, source: x,
    advise: {do: Go on., minutes: 1}}
"""
    tree = TREE.replace("causes: {sensor: 50, point: 50}", "causes: {is-first: 50, is-second: 50}")
    steps = "  only-at-the-desk: {then: {no: {refer: x}, yes: {hand-over: first}, hail: {hand-over: second}}}\n"
    whole = f"{tree.partition('steps:')[0]}steps:\n{steps}"
    lacking = whole.replace("hail: {hand-over: second}", "hail: {refer: x}")
    texts = {**TEXTS, "catalogue/complaints.yaml": complaints_listed}
    told = [
        [one.message for one in check_library(read_library({**texts, "triage.yaml": text}), NEVER_CONCLUDED)
         if one.rule == NEVER_CONCLUDED[0].id and one.place.file == "triage.yaml"]
        for text in (whole, lacking)
    ]  # fmt: skip
    assert told[0] == []
    assert len(told[1]) == 1
    assert "is-second" in told[1][0]


def test_words_heard_in_every_complaint_that_is_offered_are_told_once() -> None:
    bay = desk(shipped(), "petrel-2")
    bay.type(words="charging stops at home")
    form = bay.prompt.form
    assert isinstance(form, Choice)
    assert len(form.options) > 3
    assert "Heard in all of them: `stops`, `home`." in bay.prompt.about
    heard = [option.text.partition("heard in ")[2] for option in form.options if "heard in" in option.text]
    assert len(set(heard)) == len(heard)
