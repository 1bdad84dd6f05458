"""Evidence: the posterior, answers given twice, close readings, impossible answers, and the words for it all."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from diagtree.reason.evidence import Answered, allowed, can_part, counted, posterior, telling
from diagtree.reason.evidence_words import arguments, doubt_words, share_in_words
from tests.documents import Known, words
from tests.oracles.expectimax import Expectimax
from tests.strategies import documents, knowledge

SHOWS = {
    "broken-sensor": {"ohms": {"open": 75, "normal": 25}},
    "hot-contact": {"ohms": {"open": 50, "normal": 50}},
    "charge-point": {},
}


def garage(mistake: int = 0, shares: dict[str, int] | None = None) -> Known:
    tests = {
        key: {
            "ask": "?", "place": "reception", "minutes": 1, "outcomes": ["normal", "open", "shorted"],
            "healthy": "normal", "mistake": mistake, "source": "made up",
        }
        for key in ("ohms", "looks")
    }
    causes = {
        key: {"name": key.replace("-", " "), "where": "wiring", "shows": shows, "advise": {"do": "x", "minutes": 1}}
        for key, shows in SHOWS.items()
    }
    return words({
        "tests": tests, "causes": causes, "house": {"rate": 60, "comeback": 1, "referral": 1},
        "tree": {
            "tree": "t", "title": "T", "revision": 1, "causes": shares or dict.fromkeys(SHOWS, 10), "start": "ohms",
            "steps": {"ohms": {"then": {key: {"refer": "x"} for key in ("normal", "open", "shorted")}}},
        },
    })


def test_posterior_by_hand() -> None:
    """Mistake 10 %: P(open) = .9 * .75 + .1/3, .9 * .5 + .1/3, .1/3."""
    known = garage(mistake=10)
    belief = posterior(known.tree.causes, [Answered("ohms", "open")], known.catalogue)
    joint = [0.9 * 0.75 + 0.1 / 3, 0.9 * 0.5 + 0.1 / 3, 0.1 / 3]
    assert list(belief.chances.values()) == pytest.approx([weight / sum(joint) for weight in joint], abs=1e-12)
    assert belief.ranked()[0][0] == "broken-sensor"
    assert belief.conflict == ()


def test_something_else_shows_every_outcome_alike() -> None:
    known = garage(shares={"charge-point": 10, "something-else": 10})
    belief = posterior(known.tree.causes, [Answered("ohms", "normal")], known.catalogue)
    assert belief.chances == pytest.approx({"charge-point": 0.75, "something-else": 0.25})


def test_a_close_reading_counts_each_outcome_by_its_chance() -> None:
    known = garage()
    close = Answered("ohms", "open", {"normal": 0.3, "open": 0.7})
    belief = posterior(known.tree.causes, [close], known.catalogue)
    joint = [0.3 * 0.25 + 0.7 * 0.75, 0.3 * 0.5 + 0.7 * 0.5, 0.3]
    assert list(belief.chances.values()) == pytest.approx([weight / sum(joint) for weight in joint], abs=1e-12)


@pytest.mark.parametrize(("outcomes", "takes_back", "counts", "why"), [
    (("normal", "open"), False, "open", "the one that is not healthy"),
    (("open", "normal"), False, "open", "a fault that was seen once was seen"),
    (("open", "normal"), True, "normal", "the earlier was a mistake"),
    (("normal", "open"), True, "open", "the earlier was a mistake"),
    (("open", "shorted"), False, "shorted", "neither is healthy: the later"),
    (("open", "not-done"), False, "open", "not-done is no evidence"),
    (("not-done", "open"), False, "open", "not-done is no evidence"),
    (("open", "not-done"), True, None, "taken back, and not done again"),
])
def test_a_test_answered_again_counts_once(
    outcomes: tuple[str, str], takes_back: bool, counts: str | None, why: str
) -> None:
    known = garage()
    twice = [Answered("ohms", outcomes[0]), Answered("ohms", outcomes[1], takes_back=takes_back)]
    assert [answer.outcome for answer in counted(twice, known.catalogue)] == ([counts] if counts else []), why


def test_answers_that_no_listed_cause_allows_are_said() -> None:
    known = garage(mistake=10)
    answers = [Answered("looks", "normal"), Answered("ohms", "shorted")]
    belief = posterior(known.tree.causes, answers, known.catalogue)
    assert belief.conflict == ("ohms",)
    assert not belief.impossible
    assert not any(allowed(cause, answers, known.catalogue) for cause in known.catalogue.causes.values())


def test_two_answers_that_no_cause_allows_together_are_both_named() -> None:
    known = garage(mistake=10, shares={"charge-point": 1, "broken-sensor": 1})
    answers = [Answered("looks", "shorted"), Answered("ohms", "open")]
    assert posterior(known.tree.causes, answers, known.catalogue).conflict == ("looks", "ohms")


def test_impossible_answers_leave_no_chance_and_say_so() -> None:
    known = garage()
    belief = posterior(known.tree.causes, [Answered("ohms", "shorted")], known.catalogue)
    assert belief.impossible
    assert set(belief.chances.values()) == {0.0}
    assert belief.conflict == ("ohms",)


IMPOSSIBLE = [
    # struck, answers, with something-else, mistake, what the word begins with
    ([], ["normal"], False, 10, ""),
    ([], ["shorted"], False, 10, "No listed cause allows these answers together (ohms). One may be wrong"),
    ([], ["shorted"], True, 0, "No listed cause allows these answers together (ohms). Measure one again"),
    ([], ["shorted"], False, 0, "No cause of this tree can have given these answers together (ohms). Measure again"),
    (list(SHOWS), ["open"], False, 10, "Every listed cause of this tree has been struck out."),
    (list(SHOWS), ["shorted"], True, 10, "Every listed cause of this tree has been struck out."),
    (list(SHOWS)[:2], ["normal"], False, 10, ""),
]


@pytest.mark.parametrize(("struck", "outcomes", "other", "mistake", "begins"), IMPOSSIBLE)
def test_an_impossible_situation_gets_a_clear_word(
    struck: list[str], outcomes: list[str], other: bool, mistake: int, begins: str
) -> None:
    known = garage(mistake, dict.fromkeys(SHOWS, 10) | ({"something-else": 5} if other else {}))
    answers = [Answered("ohms", outcome) for outcome in outcomes]
    said = doubt_words(posterior(known.tree.causes, answers, known.catalogue, struck=struck))
    assert said.startswith(begins)
    assert bool(said) == bool(begins)


def test_a_struck_cause_has_no_chance() -> None:
    known = garage()
    belief = posterior(known.tree.causes, [], known.catalogue, struck=["hot-contact"])
    assert belief.chances == pytest.approx({"broken-sensor": 0.5, "hot-contact": 0.0, "charge-point": 0.5})
    assert belief.alive == ("broken-sensor", "charge-point")
    assert posterior(known.tree.causes, [], known.catalogue, struck=SHOWS).impossible


def test_sixty_causes_and_a_hundred_answers_do_not_underflow() -> None:
    outcomes = [f"o{n}" for n in range(40)]
    tests = {
        f"t{n}": {
            "ask": "?", "place": "reception", "minutes": 1, "outcomes": outcomes, "healthy": "o0", "mistake": 1,
            "source": "made up",
        }
        for n in range(200)
    }
    causes = {
        f"c{n}": {"name": "c", "where": "wiring", "advise": {"do": "x", "minutes": 1},
                  "shows": {"t0": {"o1": 100}} if n == 7 else {}}
        for n in range(60)
    }
    known = words({
        "tests": tests, "causes": causes, "house": {"rate": 60},
        "tree": {"tree": "t", "title": "T", "revision": 1, "causes": dict.fromkeys(causes, 1), "start": "t0",
                 "steps": {"t0": {"then": {}}}},
    })
    # Every answer is a mistake (0.01 / 40 each): 4 decades a test, 800 decades in all.
    answers = [Answered(test, "o1") for test in tests]
    belief = posterior(known.tree.causes, answers, known.catalogue)
    assert sum(belief.chances.values()) == pytest.approx(1)
    by_hand = (0.99 + 0.01 / 40) / (0.01 / 40)
    assert belief.chances["c7"] / belief.chances["c8"] == pytest.approx(by_hand)


@st.composite
def answered_documents(draw: Any) -> tuple[Any, dict[str, str]]:
    document = draw(documents())
    tests = draw(st.lists(st.sampled_from(sorted(document["tests"])), unique=True))
    return document, {test: draw(st.sampled_from(document["tests"][test]["outcomes"])) for test in tests}


@settings(deadline=None)
@given(answered_documents(), st.randoms())
def test_posterior_agrees_with_fractions_in_any_order_of_the_answers(
    generated: tuple[Any, dict[str, str]], random: Any
) -> None:
    document, answers = generated
    known = words(document)
    weights = Expectimax(document).weights(answers, frozenset())
    shuffled = [Answered(test, outcome) for test, outcome in answers.items()]
    random.shuffle(shuffled)
    belief = posterior(known.tree.causes, shuffled, known.catalogue)
    total = sum(weights.values())
    assert belief.impossible == (total == 0)
    assume(total)
    assert belief.chances == pytest.approx({cause: float(Fraction(w, total)) for cause, w in weights.items()}, abs=1e-9)
    assert sum(belief.chances.values()) == pytest.approx(1)


@settings(deadline=None)
@given(answered_documents())
def test_what_a_test_tells_is_what_the_posterior_becomes(generated: tuple[Any, dict[str, str]]) -> None:
    """Expected posterior = present belief; each outcome's posterior = that after answering it."""
    document, answers = generated
    known = words(document)
    given_now = [Answered(test, outcome) for test, outcome in answers.items()]
    belief = posterior(known.tree.causes, given_now, known.catalogue)
    assume(not belief.impossible)
    for test_id in set(known.catalogue.tests) - set(answers):
        told = telling(belief.chances, known.catalogue.tests[test_id], known.catalogue)
        assert sum(told.outcomes.values()) == pytest.approx(1)
        for cause, chance in belief.chances.items():
            mean = sum(told.outcomes[o] * after[cause] for o, after in told.posterior.items())
            assert mean == pytest.approx(chance, abs=1e-9)
        for outcome, after in told.posterior.items():
            then = posterior(known.tree.causes, [*given_now, Answered(test_id, outcome)], known.catalogue)
            assert after == pytest.approx(then.chances, abs=1e-9)
        moved = any(after != pytest.approx(belief.chances, abs=1e-7) for after in told.posterior.values())
        assert told.parts or not moved


def test_a_test_that_parts_nothing_left_says_so() -> None:
    known = garage()
    told = telling({"broken-sensor": 0.6, "hot-contact": 0.4}, known.catalogue.tests["looks"], known.catalogue)
    assert not told.parts
    told = telling({"broken-sensor": 0.6, "hot-contact": 0.4}, known.catalogue.tests["ohms"], known.catalogue)
    assert told.groups == (("broken-sensor",), ("hot-contact",))


def test_evidence_in_words() -> None:
    known = garage()
    for_sensor, = arguments("broken-sensor", known.tree.causes, [Answered("ohms", "open")], known.catalogue)
    # Others before this answer: hot contact and charge point, ten cases each: (.5 + 0) / 2.
    assert (for_sensor.here, for_sensor.elsewhere, for_sensor.ratio) == pytest.approx((0.75, 0.25, 3.0))
    assert for_sensor.words == (
        "three in four cars with broken sensor show open in ohms; a quarter of the cars with another cause do"
    )
    against, = arguments("hot-contact", known.tree.causes, [Answered("ohms", "normal")], known.catalogue)
    assert against.words.startswith("half the cars with hot contact show normal in ohms")
    assert against.ratio < 1


@settings(deadline=None)
@given(answered_documents())
def test_each_argument_is_the_factor_by_which_its_answer_changed_the_odds(
    generated: tuple[Any, dict[str, str]]
) -> None:
    document, answers = generated
    known = words(document)
    given_now = [Answered(test, outcome) for test, outcome in answers.items()]
    after = posterior(known.tree.causes, given_now, known.catalogue).chances
    for cause, chance in after.items():
        assume(0.001 < chance < 0.999)
        for argument in arguments(cause, known.tree.causes, given_now, known.catalogue):
            before = argument.without
            assert chance / (1 - chance) == pytest.approx(argument.ratio * before / (1 - before), rel=1e-6)


@pytest.mark.parametrize(("chance", "said"), [
    (0, "no"), (0.001, "hardly any"), (0.1, "one in ten"), (0.48, "half the"), (0.74, "three in four"),
    (0.999, "practically all"), (1, "all"),
])
def test_chances_as_counts_of_cars(chance: float, said: str) -> None:
    assert share_in_words(chance) == said


@given(knowledge(), st.data())
@settings(deadline=None)
def test_whether_a_test_can_part_is_what_its_telling_says(known: Known, data: st.DataObject) -> None:
    weights = {cause: data.draw(st.sampled_from((0.0, 1.0, 3.0))) for cause in known.tree.causes}
    for test in known.catalogue.tests.values():
        assert can_part(weights, test, known.catalogue) == telling(weights, test, known.catalogue).parts
