"""Rounds: the same seed is the same car, events are all that is remembered, evidence is what the car showed."""

from __future__ import annotations

import json
from collections import Counter
from contextlib import suppress
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import chisquare

from diagtree.errors import AnswerError, WrongUse
from diagtree.knowledge.files import load
from diagtree.knowledge.library import read_library
from diagtree.physics.meter import accuracy_for, specified_error
from diagtree.physics.reading import parse_reading
from diagtree.physics.units import unit
from diagtree.quiz.choices import Choice, Kind, read_choice, read_sure
from diagtree.quiz.event_json import event_from_json, event_to_json
from diagtree.quiz.events import Corrected, Tested
from diagtree.quiz.modes import EXAM, PRACTICE, exam_seeds, mode_of
from diagtree.quiz.respond import respond
from diagtree.quiz.round import deal, resume
from diagtree.quiz.showing import answer
from diagtree.quiz.state import fold, start, step
from diagtree.quiz.trainees import play, random, tree_follower
from diagtree.reason.evidence import Answered, posterior
from diagtree.walk.context import Walk
from tests.documents import texts
from tests.quiz.test_safety import BAY, run

TREE = "ac-fails-dc-works"


def at_once():
    """Allow no search: where the tree says no more, what is known at once must do."""
    return lambda: True


GOLDEN_CAUSES = "broken broken broken broken broken broken point point broken broken point burning"
GOLDEN_AMBIENT = [22.0, 0.0, 26.0, 3.0, 1.0, 2.0, 15.0, 10.0, 3.0, 16.0, 16.0, 19.0]


@pytest.fixture(scope="module")
def shipped() -> Walk:
    return Walk.begin(load(), TREE, "petrel-2")


@settings(deadline=None, max_examples=30)
@given(st.integers(0, 10**9))
def test_the_same_seed_is_the_same_round(seed: int):
    """Dealt twice from knowledge read twice: cause, weather, story, and every reading."""
    one, two = (deal(Walk.begin(read_library(texts(BAY)), "t"), str(seed)) for _ in range(2))
    assert one.dealt == two.dealt
    assert play(one, random) == play(two, random)


def test_the_same_on_every_machine():
    """Dice are SHA-256 of words: these causes come on any machine, for ever."""
    walk = Walk.begin(read_library(texts(BAY)), "t")
    dealt = [deal(walk, str(seed)).dealt for seed in range(12)]
    assert " ".join(one.cause for one in dealt) == GOLDEN_CAUSES
    assert [one.ambient for one in dealt] == GOLDEN_AMBIENT


def test_causes_are_dealt_by_share():
    walk = Walk.begin(read_library(texts(BAY)), "t")
    seen = Counter(deal(walk, str(seed)).dealt.cause for seed in range(1000))
    assert chisquare([seen["broken"], seen["burning"], seen["point"]], [500, 200, 300]).pvalue > 0.001


def test_a_thousand_cars_of_a_cause_show_what_the_figures_say(shipped: Walk):
    """Outcomes that the catalogue draws (no physics), each by chi-square; physics' own are held in tests/car."""
    tests = ("when-it-stops", "charges-on-another-point", "charging-codes")
    for cause in ("inlet-contact-hot", "charge-point-fault"):
        cars = [deal(shipped, f"car {number}", cause=cause) for number in range(1000)]
        for name in tests:
            test = shipped.test(name)
            seen = Counter(answer(car, test, 0).outcome for car in cars)
            mistake = test.mistake / 100
            stated = shipped.catalogue.causes[cause].shows.get(name, {test.healthy: 100.0})
            expected = [
                1000 * ((1 - mistake) * stated.get(outcome, 0.0) / 100 + mistake / len(test.outcomes))
                for outcome in test.outcome_ids()
            ]
            assert chisquare([seen[one] for one in test.outcome_ids()], expected).pvalue > 0.001, (cause, name)


def test_a_resumed_round_goes_on_as_if_it_had_never_stopped(shipped: Walk):
    here = deal(shipped, "5")
    whole = play(here, tree_follower, at_once)
    stored = [json.loads(json.dumps(event_to_json(event))) for event in whole]
    for cut in range(1, len(whole)):
        again = tuple(event_from_json(one) for one in stored[:cut])
        assert again == whole[:cut]
        there = resume(shipped.library, again[0])  # type: ignore[arg-type]
        state = fold(there, again)
        assert state == fold(here, whole[:cut])
        assert state.ended is None
    there = resume(shipped.library, again[0])  # type: ignore[arg-type]
    assert respond(there, state, tree_follower(there, state, 0, at_once())) == whole[-1]


def test_a_round_of_other_knowledge_is_not_resumed(shipped: Walk):
    dealt = replace(deal(shipped, "5").dealt, digest="0")
    with pytest.raises(WrongUse, match="deal a new one"):
        resume(shipped.library, dealt)


@pytest.mark.parametrize(
    "data", [{}, {"type": "Tested", "v": 2}, {"type": "Walked", "v": 1}, {"type": "Moved", "v": 1}]
)
def test_events_that_cannot_be_read_are_told(data: dict[str, object]):
    with pytest.raises(WrongUse, match="deal a new"):
        event_from_json(data)


def test_weights_are_the_posterior_of_what_was_seen(shipped: Walk):
    """The evidence of a round is a walk's, a reading close to a limit counted by its chances (here every other one)."""
    for seed in range(12):
        here = deal(shipped, f"evidence {seed}")
        state = start(here)
        answers = [Answered(test, outcome, {}) for test, outcome in here.dealt.told]
        for number, event in enumerate(play(here, tree_follower, at_once)[1:]):
            if isinstance(event, Tested):
                outcomes = shipped.test(event.test).outcome_ids()
                if number % 2:
                    chances = dict.fromkeys(outcomes, 0.25 / len(outcomes))
                    chances[event.outcome] += 0.75
                    event = replace(event, chances=chances)
                answers.append(Answered(event.test, event.outcome, event.chances))
            state = step(here, state, event)
            seen = posterior(here.tree.causes, answers, here.walk.catalogue, struck=state.struck)
            assert state.chances == pytest.approx(tuple(seen.chances.values()), abs=1e-12)


answers_again = st.tuples(st.sampled_from(["code", "ohms"]), st.booleans(), st.sampled_from([None, 0.3, 0.4]))


@settings(deadline=None, max_examples=50)
@given(st.lists(answers_again, max_size=4))
def test_a_test_done_again_counts_as_in_a_walk(shown: list[tuple[str, bool, float | None]]):
    """Of two answers the one that is not healthy, of two such the later with its own chances (docs/meaning.md)."""
    here = played_broken()
    state, answers = start(here), []
    for test_id, healthy, share in shown:
        test = here.walk.test(test_id)
        other = next(name for name in test.outcome_ids() if name != test.healthy)
        outcome, beside = (test.healthy, other) if healthy else (other, test.healthy)
        chances = {} if share is None else {outcome: 1 - share, beside: share}
        state = step(here, state, Tested(test_id, {}, outcome, chances, (), 1.0, 1.0))
        answers.append(Answered(test_id, outcome, chances))
    seen = posterior(here.tree.causes, answers, here.walk.catalogue)
    assert state.chances == pytest.approx(tuple(seen.chances.values()), abs=1e-12)


def test_readings_again_differ_by_the_meter_s_noise_only(shipped: Walk):
    here = deal(shipped, "9", cause="inlet-contact-hot")
    state, _ = run(here, "make-safe", "open rear-bench", "open charger-cover", "open inlet-connector")
    test = shipped.test("inlet-sensor-resistance")
    meter = accuracy_for(shipped.meters["multimeter"], unit("ohm"))
    assert meter is not None
    values, spread = [], []
    for _ in range(8):
        event = respond(here, state, Choice(Kind.TEST, test.id))
        assert isinstance(event, Tested)
        reading = parse_reading(event.readings["resistance"], "ohm")
        values.append(reading.value)
        spread.append(specified_error(meter, reading.value, reading.last_digit))
        state = step(here, state, event)
    assert len(set(values)) > 1
    assert max(values) - min(values) <= 2 * max(spread) * (1 + 1e-9)
    assert state.outcomes[test.id] == "normal"


def test_a_maker_s_value_that_is_unknown_is_compared_not_invented():
    walk = Walk.begin(load(), TREE, "marlin-1")
    for number in range(20):
        here = deal(walk, str(number), cause="charger-cooling-fault")
        test = walk.test("charger-temperature-readout")
        assert answer(here, test, 0).outcome in test.outcome_ids()


def test_a_correction_brings_a_proof_charge():
    here = played_broken()
    state, event = run(here, "make-safe", "correct burning 20")
    assert isinstance(event, Corrected)
    assert not event.fixed
    assert event.cut_out is not None
    assert state.struck == ("burning",)
    assert not state.arrangement.dead
    state, event = run(here, "make-safe", "open seat", "open cover", "correct broken 90")
    assert isinstance(event, Corrected)
    assert event.fixed
    assert event.cut_out is None
    assert event.samples[-1][0] == 30
    assert state.ended == "fixed"
    # 25 to make safe, 10 + 5 to open, 60 to mend, 5 + 10 to live, 30 to prove, 10 to shut the seat.
    assert state.minutes == state.money == 25 + 15 + 60 + 5 + 10 + 30 + 10


def played_broken():
    return deal(Walk.begin(read_library(texts(BAY)), "t"), "1", cause="broken")


def test_how_sure_is_asked_before_a_correction_and_an_advice():
    here = played_broken()
    for text in ("advise point", "advise point 101"):
        with pytest.raises(AnswerError, match="sure"):
            run(here, text)
    state, _ = run(here, "advise point 62,5")
    said = state.statements[0]
    assert (said.cause, said.stated, said.came_true, said.evidence) == ("point", 0.625, False, pytest.approx(0.3))


def test_there_are_no_hints_in_an_exam():
    here = deal(Walk.begin(read_library(texts(BAY)), "t"), "1", EXAM)
    with pytest.raises(AnswerError, match="no hints"):
        respond(here, start(here), Choice(Kind.HINT))
    assert exam_seeds("spring", 2) == ("exam spring 1", "exam spring 2")


def test_names_that_lead_nowhere_are_told(shipped: Walk):
    with pytest.raises(WrongUse, match="did you mean `inlet-sensor-open`"):
        deal(shipped, "1", cause="inlet-sensor-opne")
    with pytest.raises(WrongUse, match="did you mean `exam`"):
        mode_of("exams")
    assert mode_of("practice") is PRACTICE


@pytest.mark.parametrize(
    ("text", "choice"),
    [
        ("test ohms", Choice(Kind.TEST, "ohms")),
        ("  OPEN seat ", Choice(Kind.OPEN, "seat")),
        ("make-safe", Choice(Kind.MAKE_SAFE)),
        ("correct broken 80", Choice(Kind.CORRECT, "broken", 80.0)),
        ("correct broken", Choice(Kind.CORRECT, "broken")),
        ("advise point 62,5%", Choice(Kind.ADVISE, "point", 62.5)),
        ("refer", Choice(Kind.REFER)),
    ],
)
def test_choices_are_read_from_text(text: str, choice: Choice):
    assert read_choice(text) == choice
    if choice.sure is None:
        assert read_choice(choice.words) == choice


@pytest.mark.parametrize(
    "text", ["", "tets ohms", "test", "test a b", "make-safe now", "correct x 101", "correct x -1", "correct x nan",
             "advise x eighty", "correct a 1 2", "open"],
)  # fmt: skip
def test_junk_is_no_choice(text: str):
    with pytest.raises(AnswerError):
        read_choice(text)


@given(st.text(max_size=40))
def test_any_text_is_a_choice_or_a_clear_error(text: str):
    for read in (read_choice, read_sure):
        with suppress(AnswerError):  # anything else would be a traceback for the trainee
            read(text)


