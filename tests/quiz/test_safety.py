"""No sequence of acts gives a reading that relies on a dead car while it is live; what is unsafe is told."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagtree.errors import AnswerError, WrongUse
from diagtree.knowledge.files import load
from diagtree.quiz import permitted
from diagtree.quiz import respond as responding
from diagtree.quiz.choices import Choice, Kind, read_choice
from diagtree.quiz.events import Event, Referred, Refused, Tested, WentWrong
from diagtree.quiz.modes import EXAM, PRACTICE
from diagtree.quiz.respond import respond
from diagtree.quiz.round import Round, deal
from diagtree.quiz.state import UNSAFE, State, fold, start, step
from diagtree.quiz.trainees import choices
from diagtree.walk.context import Walk
from tests.documents import MAKE_SAFE_STEPS, Document
from tests.quiz.bystander import Bystander
from tests.quiz.rounds import distinct, played
from tests.strategies import documents

SLOW = settings(deadline=None, max_examples=120, suppress_health_check=[HealthCheck.too_slow])
CLOSING = frozenset({Kind.ADVISE, Kind.REFER})


def wander(here: Round, picks: list[int]) -> list[tuple[State, Choice, Event, State]]:
    """Return a round of reckless choices: any act that can be named, unsafe ones too, tests again and again."""
    state, made = start(here), []
    for pick in picks:
        if state.ended is not None:
            break
        every = [*choices(here, state), *(Choice(Kind.TEST, test) for test in here.walk.catalogue.tests)]
        some = [choice for choice in every if choice.kind not in CLOSING] if pick % 7 else every
        choice = some[pick % len(some)]
        event = respond(here, state, choice)
        after = step(here, state, event)
        made.append((state, choice, event, after))
        state = after
    return made


def complaints(document: Document, made: list[tuple[State, Choice, Event, State]]) -> list[str]:
    watching, found = Bystander(document), []
    for _, choice, event, after in made:
        found += [f"{choice.words}: {line}" for line in watching.sees(event)]
        if after.ended is None:
            assert (not watching.live, frozenset(watching.open)) == (after.arrangement.dead, after.arrangement.open)
    return found


PICKS = st.lists(st.integers(0, 10**6), min_size=8, max_size=30)


@SLOW
@given(documents(max_causes=3, max_tests=4, stops=True), PICKS, st.integers(0, 50))
def test_no_sequence_of_acts_reads_a_dead_only_test_on_a_live_car(document: Document, picks: list[int], seed: int):
    """By a bystander who knows nothing of the quiz's own bookkeeping."""
    document = distinct(document)
    assert complaints(document, wander(played(document, seed=str(seed)), picks)) == []


@SLOW
@given(documents(max_causes=3, max_tests=3, stops=True), PICKS, st.integers(0, 50))
def test_what_was_not_done_changes_nothing_and_costs_nothing(document: Document, picks: list[int], seed: int):
    document = distinct(document)
    for before, _, event, after in wander(played(document, seed=str(seed)), picks):
        if isinstance(event, Refused | WentWrong):
            assert (after.case, after.outcomes, after.money, after.minutes, after.ended) == (
                before.case, before.outcomes, before.money, before.minutes, None,
            )
            assert event.missing if isinstance(event, Refused) else event.told and event.missed


def test_the_bystander_notices_a_predicate_that_sleeps(monkeypatch: pytest.MonkeyPatch):
    """With the objection taken out, wandering does harm, and is told on."""
    monkeypatch.setattr(responding, "objection", lambda *_: None)
    here = played(BAY, "broken")
    state, harm = start(here), Bystander(BAY)
    found = []
    for text in ("test ohms", "open cover"):
        event = respond(here, state, read_choice(text))
        found += harm.sees(event)
        state = step(here, state, event)
    assert "a dead-only job on a live car" in found
    assert "a dead-only cover of a live car touched" in found


# -- by hand

BAY: Document = {
    "tests": {
        "ask": {"ask": "Since when?", "place": "reception", "minutes": 1, "outcomes": ["long", "new"],
                "healthy": "long", "source": "made up"},
        "ohms": {"ask": "Resistance at the plug?", "place": "bay", "minutes": 6, "outcomes": ["open", "fine"],
                 "needs": {"power": "dead", "open": ["cover"]}, "healthy": "fine", "source": "made up"},
        "code": {"ask": "Code?", "place": "bay", "minutes": 5, "outcomes": ["set", "none"],
                 "needs": {"power": "live"}, "healthy": "none", "source": "made up"},
        "burnt": {"ask": "Burnt?", "place": "bay", "minutes": 1, "outcomes": ["yes", "no"], "needs": {"power": "any"},
                  "healthy": "no", "stop": ["yes"], "source": "made up"},
    },
    "causes": {
        "broken": {"name": "a broken wire", "where": "wiring", "shows": {"ohms": {"open": 100}, "code": {"set": 100}},
                   "correction": {"do": "Mend.", "minutes": 60, "needs": {"power": "dead", "open": ["cover"]}},
                   "proof": {"charge": "ac", "minutes": 30}},
        "burning": {"name": "a hot contact", "where": "inlet", "shows": {"burnt": {"yes": 100}},
                    "correction": {"do": "Renew.", "minutes": 90, "needs": {"power": "dead"}},
                    "proof": {"charge": "ac", "minutes": 30}},
        "point": {"name": "a faulty point", "where": "outside", "shows": {},
                  "advise": {"do": "Call the installer.", "minutes": 10}},
    },
    "access": {
        "seat": {"name": "rear seat", "open": 10, "close": 10},
        "cover": {"name": "cover", "after": ["seat"], "open": 5, "close": 5, "power": "dead"},
        "plug": {"name": "small plug", "open": 2, "close": 2, "refit-before-live": True},
    },
    "procedures": {
        "make-safe": {"minutes": 25, "steps": MAKE_SAFE_STEPS},
        "re-energise": {"minutes": 10, "steps": [{"kind": "re-energise", "do": "Close it."}]},
    },
    "house": {"rate": 60, "referral": 300, "comeback": 200},
    "tree": {"tree": "t", "title": "Does not charge", "revision": 1, "hears": ["does not charge"],
             "causes": {"broken": 5, "burning": 2, "point": 3}, "start": "code",
             "steps": {"code": {"then": {"set": {"conclude": "broken"}, "none": {"conclude": "point"}}}}},
}  # fmt: skip


def run(here: Round, *texts: str) -> tuple[State, Event]:
    state, event = start(here), None
    for text in texts:
        event = respond(here, state, read_choice(text))
        state = step(here, state, event)
    assert event is not None
    return state, event


@pytest.mark.parametrize(
    ("texts", "harm"),
    [
        (["test ohms"], "shock"),
        (["open seat", "test ohms"], "shock"),
        (["correct broken 50"], "shock"),
        (["open seat", "open cover"], "shock"),
        (["make-safe", "open seat", "open cover", "re-energise"], "shock"),
        (["make-safe", "open plug", "re-energise"], "live-contacts"),
        (["open plug", "make-safe", "re-energise"], "live-contacts"),
    ],
)  # fmt: skip
def test_an_unsafe_act_is_told_and_the_round_goes_on(texts: list[str], harm: str):
    here = played(BAY, "broken")
    state, event = run(here, *texts)
    assert isinstance(event, WentWrong)
    assert event.harm == harm
    assert any("counts as live" in line for line in event.missed)
    assert state.ended is None
    assert state.unsafe == 1
    assert isinstance(respond(here, state, read_choice("test ask")), Tested)


@pytest.mark.parametrize(
    ("texts", "missing"),
    [
        (["make-safe", "test ohms"], ("open seat", "open cover")),
        (["make-safe", "test code"], ("re-energise",)),
        (["open plug", "test code"], ("close plug",)),
        (["make-safe", "open cover"], ("open seat first",)),
        (["make-safe", "open seat", "open cover", "close seat"], ("close cover first",)),
        (["close seat"], ("it is closed",)),
        (["open seat", "open seat"], ("it is open already",)),
        (["re-energise"], ("the car is live already",)),
        (["make-safe", "make-safe"], ("the car is made safe and proven dead already",)),
        (["advise broken 50"], ("this house repairs it: `correct broken`",)),
        (["correct point 50"], ("this house does not repair it: `advise point`, or refer the car",)),
        (["make-safe", "correct burning 9", "make-safe", "correct burning 9"],
         ("that work was done already, and the proof charge failed",)),
    ],
)  # fmt: skip
def test_an_impossible_act_is_refused_with_what_is_missing(texts: list[str], missing: tuple[str, ...]):
    _, event = run(played(BAY, "broken"), *texts)
    assert isinstance(event, Refused)
    assert event.missing == missing


def test_after_a_danger_only_words_are_left():
    here = played(BAY, "burning")
    state, event = run(here, "test burnt")
    assert isinstance(event, Tested)
    assert state.danger == "burnt"
    for text in ("test ohms", "test code", "test burnt", "open seat", "make-safe", "correct burning 99",
                 "advise point 1"):  # fmt: skip
        wrong = respond(here, state, read_choice(text))
        assert isinstance(wrong, WentWrong)
        assert wrong.harm == "danger"
        assert any("Do not plug the car in" in line for line in wrong.missed)
    assert isinstance(respond(here, state, read_choice("test ask")), Tested)
    assert isinstance(respond(here, state, read_choice("refer")), Referred)


def test_an_unsafe_act_ends_an_exam():
    here = played(BAY, "broken", mode=EXAM)
    state, _ = run(here, "test code", "test ohms")
    assert state.ended == UNSAFE
    with pytest.raises(WrongUse, match="ended"):
        respond(here, state, read_choice("test ask"))


@pytest.mark.parametrize(
    "text", ["test nothing", "open ask", "correct something-else 5", "correct code 5", "advise x 5"]
)
def test_a_name_that_is_not_there_is_told(text: str):
    with pytest.raises(AnswerError, match="there is no"):
        run(played(BAY, "broken"), text)


# -- on the shipped knowledge: every test, every correction and every access on a car as it comes in


@pytest.mark.parametrize("vehicle", ["petrel-2", "marlin-1"])
def test_on_a_car_as_it_comes_in_nothing_dead_only_is_read_opened_or_mended(vehicle: str):
    here = deal(Walk.begin(load(), "ac-fails-dc-works", vehicle), "3", PRACTICE, cause="inlet-sensor-open")
    catalogue, first = here.walk.catalogue, start(here)
    told = 0
    for test in catalogue.tests.values():
        event = respond(here, first, Choice(Kind.TEST, test.id))
        if test.needs.power.value == "dead":
            assert isinstance(event, WentWrong), test.id
            assert set(test.mind) <= set(event.missed)
            assert event.harm == ("arc" if test.reads else "shock")
            assert "OL" not in " ".join(event.told)
            told += 1
    for access in catalogue.access.values():
        if access.dead_only:
            event = respond(here, first, Choice(Kind.OPEN, access.id))
            assert isinstance(event, WentWrong)
            assert set(access.mind) <= set(event.missed)
    for cause in here.problem.causes:
        correction = catalogue.causes[cause].correction if cause in catalogue.causes else None
        if correction and correction.needs.power.value == "dead":
            assert isinstance(respond(here, first, Choice(Kind.CORRECT, cause, 50.0)), WentWrong)
    assert told > 5


def test_the_airbag_is_told_where_the_way_leads_past_it():
    here = deal(Walk.begin(load(), "ac-fails-dc-works", "petrel-2"), "3")
    event = respond(here, start(here), Choice(Kind.TEST, "inlet-sensor-resistance"))
    assert isinstance(event, WentWrong)
    assert any("airbag" in line for line in event.told)
    _, event = run(here, "open rear-bench", "test inlet-sensor-resistance")
    assert isinstance(event, WentWrong)
    assert not any("airbag" in line for line in event.told)  # that harm is behind: the seat is out already


def test_objections_are_asked_for_every_kind_of_act():
    """Whoever adds a kind of act must say when it may be done."""
    here = played(BAY, "broken")
    for kind in Kind:
        name = {"test": "ask", "open": "seat", "close": "seat", "correct": "broken", "advise": "point"}.get(kind.value)
        found = permitted.objection(here, start(here), Choice(kind, name, 50.0))
        free = {Kind.TEST, Kind.OPEN, Kind.MAKE_SAFE, Kind.ADVISE, Kind.REFER, Kind.HINT, Kind.STOP}
        assert (found is None) == (kind in free), kind
    assert fold(here, []) == start(here)
