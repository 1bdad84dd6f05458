"""Progress by subject and what comes next: order does not matter, nothing starves, time forgets."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import StoreError
from diagtree.quiz.progress import RECENT, Decided, from_summary, moment, tallies, to_summary
from diagtree.quiz.progress_schedule import LONGEST, grade, plan_round, standings
from diagtree.quiz.subject import SUBJECTS

START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


def at(days: float) -> str:
    return (START + timedelta(days=days)).isoformat()


decisions = st.lists(
    st.tuples(st.integers(1, 8), st.sampled_from(SUBJECTS), st.booleans()), max_size=60
).map(lambda rows: [Decided(number, at(number), subject, right) for number, subject, right in rows])


@given(decisions, st.randoms(use_true_random=False))
@settings(deadline=None)
def test_the_order_of_answers_does_not_matter(decided: list[Decided], dice: object) -> None:
    mixed = list(decided)
    dice.shuffle(mixed)  # type: ignore[attr-defined]
    assert tallies(mixed) == tallies(decided)
    assert standings(mixed, SUBJECTS, at(20)) == standings(decided, SUBJECTS, at(20))
    assert plan_round(mixed, SUBJECTS, at(20), 7) == plan_round(decided, SUBJECTS, at(20), 7)


@given(decisions)
@settings(deadline=None)
def test_tallies_count_what_was_decided(decided: list[Decided]) -> None:
    for tally in tallies(decided):
        own = [one.right for one in decided if one.subject == tally.subject]
        assert (tally.count, tally.right) == (len(own), sum(own))
        if own and len(own) <= RECENT:
            assert tally.share == pytest.approx(sum(own) / len(own))


@given(
    strength=st.lists(st.floats(0, 1), min_size=6, max_size=6),
    available=st.sets(st.sampled_from(SUBJECTS), min_size=1),
    questions=st.integers(1, 10),
    days=st.sampled_from([0.0, 0.001, 1.0, 9.0]),
    dice=st.randoms(use_true_random=False),
)
@settings(deadline=None, max_examples=40)
def test_no_subject_starves(
    strength: list[float], available: set[str], questions: int, days: float, dice: object
) -> None:
    """However strong or weak in what, and whether the days pass or stand still: everything comes back in time."""
    subjects = [subject for subject in SUBJECTS if subject in available]
    decided: list[Decided] = []
    last = dict.fromkeys(subjects, 0)
    for number in range(1, 40):
        plan = plan_round(decided, subjects, at(number * days), questions)
        assert len(plan) == questions
        assert set(plan) <= set(subjects)
        for subject in plan:
            right = dice.random() < strength[SUBJECTS.index(subject)]  # type: ignore[attr-defined]
            decided.append(Decided(number, at(number * days), subject, right))
            last[subject] = number
        assert all(number - seen <= LONGEST + len(subjects) for seen in last.values()), last


def test_the_weaker_subject_gets_more_questions() -> None:
    decided = [Decided(1, at(0), subject, subject != "pilot") for subject in SUBJECTS for _ in range(10)]
    plan = plan_round(decided, SUBJECTS, at(0.1), 20)
    assert plan.count("pilot") > max(plan.count(one) for one in SUBJECTS if one != "pilot")


def test_a_subject_never_seen_comes_first() -> None:
    decided = [Decided(1, at(0), subject, False) for subject in SUBJECTS if subject != "insulation"]
    assert plan_round(decided, SUBJECTS, at(1), 3)[0] == "insulation"


def test_time_forgets() -> None:
    decided = [Decided(1, at(0), "pilot", True)]
    needs = [standings(decided, ["pilot"], at(days))[0].need for days in (0, 1, 5, 30, 300)]
    assert all(earlier < later for earlier, later in pairwise(needs))


def test_a_clock_that_was_set_back_breaks_nothing() -> None:
    decided = [Decided(1, at(9), "pilot", True), Decided(2, at(1), "pilot", True)]
    assert 0 <= standings(decided, ["pilot"], at(0))[0].need <= 1


@pytest.mark.parametrize(("share", "name"), [(0.0, "Again"), (0.49, "Again"), (0.5, "Hard"), (0.79, "Hard"),
                                             (0.8, "Good"), (1.0, "Good")])  # fmt: skip
def test_a_round_counts_as_one_review_by_its_share(share: float, name: str) -> None:
    assert grade(share).name == name


@given(st.lists(st.tuples(st.sampled_from(SUBJECTS), st.booleans())))
def test_a_summary_gives_its_decisions_back(rows: list[tuple[str, bool]]) -> None:
    found = from_summary(3, at(0), {"decided": to_summary(rows)})
    assert [(one.subject, one.right) for one in found] == rows


def test_a_time_that_is_none_is_told() -> None:
    with pytest.raises(StoreError, match="is no time"):
        moment("yesterday")


def test_what_was_long_ago_is_forgiven() -> None:
    old = [Decided(1, at(0), "pilot", False) for _ in range(30)]
    new = [Decided(number, at(number), "pilot", True) for number in range(2, 2 + RECENT)]
    pilot = tallies(old + new)[0]
    assert (pilot.share, pilot.count, pilot.right) == (1.0, 30 + RECENT, RECENT)
