"""The scheduler of the quiz at its pinned version: its stabilities are as computed independently for these reviews."""

from __future__ import annotations

from datetime import UTC, datetime
from importlib.metadata import version

import pytest
from fsrs import Card, Rating, Scheduler

# Source: open-spaced-repetition/py-fsrs 6.3.2 (FSRS-6, default parameters), run apart from this project; no fuzz, each
# review at its due time.
REVIEWS = [
    (Rating.Good, 2.3065), (Rating.Good, 2.3065), (Rating.Good, 10.971048), (Rating.Again, 1.539013),
    (Rating.Good, 1.571842), (Rating.Good, 4.934769),
]  # fmt: skip


def test_the_pinned_scheduler_gives_the_published_stabilities() -> None:
    start = datetime(2026, 1, 1, tzinfo=UTC)
    card = Card(card_id=1, due=start)
    scheduler = Scheduler(enable_fuzzing=False)
    for rating, stability in REVIEWS:
        card, _ = scheduler.review_card(card, rating, card.due)
        assert card.stability == pytest.approx(stability, abs=5e-7)


def test_the_version_is_the_one_whose_formula_this_is() -> None:
    """FSRS changes its formula between major versions: another version needs other values here, and a look at them."""
    assert version("fsrs") == "6.3.2"
