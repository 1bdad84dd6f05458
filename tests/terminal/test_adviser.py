"""What the sums advise inside a walk: beside the question, under `why`, before an order, and on the record."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from diagtree.cases.store import CaseStore, open_store
from diagtree.knowledge.library import read_library
from diagtree.terminal.drivers import Scene
from diagtree.terminal.run_walk import SavedWalk, begin, play, reopen
from diagtree.walk.advice import tree_says
from diagtree.walk.answers import Answer, ChooseNow, Chosen, DoNow, Leave, Ticked, Typed
from diagtree.walk.context import Walk
from diagtree.walk.events import AdviceShown, Decided
from diagtree.walk.prompts import Choice, Fields, Kind, Prompt
from diagtree.walk.route import route
from tests.documents import MAKE_SAFE_STEPS, texts
from tests.reason.test_next_act import workshop


def dear_first() -> dict[str, Any]:
    """Return a tree that begins with ten hours of looking, which tell less than six minutes of measuring."""
    document = deepcopy(workshop(referral=5000, comeback=6000))
    document["procedures"]["make-safe"]["steps"] = MAKE_SAFE_STEPS
    document["procedures"]["re-energise"]["steps"] = [{"kind": "re-energise", "do": "Close the service disconnect."}]
    document["tests"]["looks"] |= {"minutes": 600, "place": "reception", "needs": {}}
    document["causes"]["harness"]["shows"]["looks"] = {"bad": 60, "fine": 40}
    document["tree"]["start"] = "looks"
    document["tree"]["steps"] = {
        "looks": {"then": {"fine": "ohms", "bad": "ohms"}},
        "ohms": {"then": {"fine": {"conclude": "sensor"}, "bad": {"conclude": "harness"}}},
    }
    return document


class Person:
    """Answers as told by kind and key, else as usual; keeps every prompt, and leaves where nothing is told."""

    advised = True

    def __init__(self, told: dict[str, Answer], *, asks_why: bool = False) -> None:
        self.told, self.asks_why = told, asks_why
        self.prompts: list[Prompt] = []
        self.advice: list[tuple[str, ...]] = []

    def answer(self, prompt: Prompt, scene: Scene) -> Answer:
        self.prompts.append(prompt)
        if self.asks_why and prompt.kind in (Kind.OUTCOME, Kind.CONCLUSION):
            self.advice = [tuple(lines) for lines in scene.advice()]
        if prompt.key in self.told and prompt.kind in (Kind.OUTCOME, Kind.REMAINING):
            return self.told.pop(prompt.key)  # once: the second time it leaves
        usual = {Kind.LOOK: Chosen(("nothing",)), Kind.ALREADY: Chosen(("nothing",))}
        if prompt.kind in usual:
            return usual[prompt.kind]
        if prompt.kind is Kind.COMPLAINT:
            return Typed({"words": "does not charge"})
        if prompt.kind is Kind.ABSENCE and isinstance(prompt.form, Fields):
            return Typed({field.name: "0.1" for field in prompt.form.fields})
        if isinstance(prompt.form, Choice):
            return Leave()
        return Ticked(prompt.form.word, "yes") if not isinstance(prompt.form, Fields) else Leave()

    def refused(self, message: str) -> None:
        raise AssertionError(message)

    def tell(self, *lines: str) -> None:
        """Nobody listens."""

    def about(self, kind: Kind, key: str) -> str:
        return " ".join(line for prompt in self.prompts if (prompt.kind, prompt.key) == (kind, key)
                        for line in prompt.about)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[CaseStore]:
    with open_store(str(tmp_path / "cases.db")) as opened:
        yield opened


def walked(store: CaseStore, document: dict[str, Any], person: Person) -> SavedWalk:
    saved = begin(Walk.begin(read_library(texts(document), ""), "t"), store)
    play(saved, person)
    return saved


def advice(saved: SavedWalk) -> list[AdviceShown]:
    return [event for event in saved.events if isinstance(event, AdviceShown)]


def test_the_evidence_says_otherwise_than_the_tree_and_it_is_told_once(store: CaseStore) -> None:
    person = Person({})
    saved = walked(store, dear_first(), person)
    told = person.about(Kind.OUTCOME, "looks")
    assert "The tree says test looks; today's evidence says test ohms: at least" in told
    assert "You decide: go on here, or `do ohms`." in told
    assert [(shown.tree, shown.evidence) for shown in advice(saved)] == [("test looks", "test ohms")]
    again = Person({})
    play(reopen(store, saved.case), again)
    assert "The tree says" in again.about(Kind.OUTCOME, "looks")
    assert len(advice(reopen(store, saved.case))) == 1  # told again to whoever comes back, but it is one advice


def test_nothing_is_said_where_the_tree_does_what_is_best(store: CaseStore) -> None:
    document = dear_first()
    document["tree"]["start"] = "ohms"
    del document["tree"]["steps"]["looks"]
    person = Person({})
    saved = walked(store, document, person)
    assert "today's evidence" not in person.about(Kind.OUTCOME, "ohms")
    assert advice(saved) == []


def test_a_look_for_danger_is_never_talked_down(store: CaseStore) -> None:
    document = dear_first()
    document["tests"]["looks"]["stop"] = ["bad"]
    document["tree"]["steps"]["looks"]["then"]["bad"] = {"refer": "a high-voltage specialist"}
    person = Person({})
    assert advice(walked(store, document, person)) == []
    assert "today's evidence" not in person.about(Kind.OUTCOME, "looks")


@pytest.mark.parametrize(
    ("answer", "did"),
    [
        (Chosen(("bad",)), "went on with the tree: test looks"),
        (DoNow("ohms"), "followed the evidence: test ohms"),
    ],
)
def test_the_record_says_who_decided(store: CaseStore, answer: Answer, did: str) -> None:
    from diagtree.report.job_record_answers import decisions

    saved = walked(store, dear_first(), Person({"looks": answer, "ohms": Chosen(("bad",))}))
    said = [saying.text for saying in decisions(saved.walk, saved.events)]
    assert f"the technician {did}" in said[0]
    assert said[0].startswith("the tree said test looks; the evidence of the day said test ohms, at least ")


def test_what_remains_may_be_chosen_from_and_left_again_for_the_tree(store: CaseStore) -> None:
    person = Person({"looks": ChooseNow(), "t": Chosen(("tree",))})
    saved = walked(store, dear_first(), person)
    remaining = next(prompt for prompt in person.prompts if prompt.kind is Kind.REMAINING)
    assert isinstance(remaining.form, Choice)
    assert {"correct:harness", "correct:sensor", "test:ohms", "tree", "refer"} <= {o.id for o in remaining.form.options}
    assert [event.what for event in saved.events if isinstance(event, Decided)] == ["remaining", "tree"]
    assert tree_says(saved.walk, route(saved.walk, saved.state)) is not None


def test_why_gives_a_first_word_and_the_proven_one(store: CaseStore) -> None:
    person = Person({}, asks_why=True)
    walked(store, dear_first(), person)
    lines = [line for block in person.advice for line in block]
    assert any(line.startswith("1. test ohms: whole case") for line in person.advice[0])
    assert any("proven, nothing is cheaper" in line for line in lines)
    assert any(line.startswith("The tree says test looks") for line in lines)


def on_looks_alone() -> dict[str, Any]:
    """Return the knowledge with a tree that concludes on looks, though a measurement is left."""
    document = dear_first()
    document["tree"]["steps"]["looks"]["then"] = {"fine": {"conclude": "sensor"}, "bad": {"conclude": "harness"}}
    del document["tree"]["steps"]["ohms"]
    document["causes"]["sensor"]["shows"]["looks"] = {"bad": 50, "fine": 50}
    return document


def test_before_the_part_is_ordered_inside_the_walk(store: CaseStore) -> None:
    """The tree concludes on looks alone: the measurement it left out is named with what it saves."""
    document = on_looks_alone()
    person = Person({"looks": Chosen(("bad",))})
    walked(store, document, person)
    assert "Before the part is ordered: 1,450 at 81 %: `ohms` (41 min) could overturn it" in person.about(
        Kind.CONCLUSION, "harness"
    )
    asks = Person({"looks": Chosen(("bad",))}, asks_why=True)
    walked(store, document, asks)
    searched = [line for block in asks.advice for line in block if line.startswith("Before the part is ordered")]
    assert len(searched) == 1  # `why` at the conclusion answers it too, after its search


def test_what_the_evidence_says_clearly_is_not_called_unclear(
    store: CaseStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Even where it is open what the test saves beside all other ways without it."""
    monkeypatch.setattr("diagtree.reason.next_act.before_order", lambda *given: None)
    monkeypatch.setattr("diagtree.reason.next_act.undecided", lambda *given: True)
    document = on_looks_alone()
    person = Person({"looks": Chosen(("bad",))})
    walked(store, document, person)
    about = person.about(Kind.CONCLUSION, "harness")
    assert "today's evidence says test ohms" in about
    assert "not clear" not in about


def test_a_house_without_the_costs_that_the_sums_need_is_walked_all_the_same(store: CaseStore) -> None:
    document = dear_first()
    document["house"]["referral"] = None
    document["tree"]["causes"]["something-else"] = 5
    person = Person({}, asks_why=True)
    saved = begin(Walk.begin(read_library(texts(document), ""), "t"), store)
    play(saved, person)
    assert person.prompts[-1].kind is Kind.OUTCOME
    assert "needs the cost of a referral" in person.advice[0][0]


def test_no_search_is_loaded_before_it_is_asked_for() -> None:
    """Start-up stays quick: neither the walk nor the first advice loads numpy."""
    import subprocess

    code = (
        "import sys; import diagtree.terminal.run_walk, diagtree.terminal.adviser, diagtree.walk.advice; "
        "import diagtree.reason.first_advice; print('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "False\n"
