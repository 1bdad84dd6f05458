"""What to practise next: where the trainee is weakest, or has not been for long.

Forgetting follows FSRS (free spaced repetition scheduler), version 6 with its default weights, by the library `fsrs`,
pinned: one card a subject, one review a round. We use its retrievability only, the chance that a subject still sits;
when to come is the trainee's own time. Source: open-spaced-repetition, py-fsrs 6.3.2.

    need = 1 - retrievability * skill,  skill = (right + 1) / (count + 2) over the latest decisions (rule of succession)

A subject never seen has need 1. A subject that the latest `LONGEST` rounds passed by comes whatever the others need, so
that nothing starves while the trainee sits and the days stand still.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from diagtree.quiz.progress import RECENT, Decided, by_round, moment, tallies
from diagtree.records import dataclass

if TYPE_CHECKING:
    from fsrs import Card, Rating, Scheduler

LONGEST = 4
"""Rounds that may pass a subject by before it comes for certain."""
_HARD_BELOW, _AGAIN_BELOW = 0.8, 0.5


@dataclass(frozen=True, slots=True)
class Standing:
    """Why a subject comes when it does. need : 0 (sits) to 1 (never seen or forgotten). [-]

    share : of right decisions lately, None where there are none. recall : retrievability. [-]
    passed : how many of the latest rounds did not touch it. days : since it was last practised.
    """

    subject: str
    need: float
    share: float | None
    recall: float
    passed: int
    days: int | None

    @property
    def words(self) -> str:
        """Why, in words."""
        if self.share is None:
            return "never practised"
        since = f"last practised {self.days} day{'' if self.days == 1 else 's'} ago" if self.days else "practised today"
        return f"{100 * self.share:.0f} % right lately, {since}"


def standings(decided: Iterable[Decided], available: Sequence[str], now: str) -> tuple[Standing, ...]:
    """Return how the available subjects stand at `now` (ISO time): who waited too long first, then the neediest."""
    known = [one for one in decided if one.subject in available]
    rounds = by_round(known)
    cards = cards_of(known)
    told = {tally.subject: tally for tally in tallies(known)}
    found = []
    for subject in available:
        tally = told.get(subject)
        passed = next(
            (past for past, group in enumerate(reversed(rounds)) if any(one.subject == subject for one in group)),
            len(rounds),
        )
        if tally is None or tally.share is None or tally.last is None:
            found.append(Standing(subject, 1.0, None, 0.0, passed, None))
            continue
        count = min(tally.count, RECENT)
        skill = (tally.share * count + 1) / (count + 2)
        recall = _recall(cards[subject], now)
        days = max(0, (moment(now) - moment(tally.last)).days)
        found.append(Standing(subject, 1.0 - recall * skill, tally.share, recall, passed, days))
    # Who waited longest first: by need alone a strong subject could be passed by for ever.
    return tuple(sorted(found, key=lambda one: (-one.passed if one.passed >= LONGEST else 0, -one.need)))


def plan_round(decided: Iterable[Decided], available: Sequence[str], now: str, questions: int) -> tuple[str, ...]:
    """Return one subject a question: those that were passed by for long first, then in proportion to need.

    The proportion is by highest averages (Sainte-Lague): each next question goes to the subject with the largest
    need / (2 * questions so far + 1). Source: M. Balinski, H. P. Young, "Fair Representation", 1982.
    """
    found = standings(decided, available, now)
    counts: dict[str, int] = {one.subject: 0 for one in found}
    plan: list[str] = []
    for one in found:
        if len(plan) < questions and (one.passed >= LONGEST or one.share is None):
            plan.append(one.subject)
            counts[one.subject] += 1
    while len(plan) < questions:
        best = max(found, key=lambda one: one.need / (2 * counts[one.subject] + 1))
        counts[best.subject] += 1
        plan.append(best.subject)
    return tuple(plan)


def cards_of(decided: Iterable[Decided]) -> Mapping[str, Card]:
    """Return the memory of each subject after all its rounds: one review a round, graded by its share of right ones."""
    from fsrs import Card

    scheduler = _scheduler()
    cards: dict[str, Card] = {}
    for group in by_round(decided):
        at = moment(group[0].at)
        for subject in sorted({one.subject for one in group}):
            answers = [one.right for one in group if one.subject == subject]
            card = cards.get(subject)
            if card is None:
                card = Card(card_id=len(cards) + 1, due=at)  # both said, or the library reads the clock
            elif card.last_review is not None and at < card.last_review:
                at = card.last_review  # a clock that was set back
            cards[subject], _ = scheduler.review_card(card, grade(sum(answers) / len(answers)), at)
    return cards


def grade(share: float) -> Rating:
    """Return how a round's share of right decisions [-] counts as a review.

    Below half: again; below 80 per cent: hard; else good. Never easy: a quiz does not see how easy it was.
    """
    from fsrs import Rating

    if share < _AGAIN_BELOW:
        return Rating.Again
    return Rating.Hard if share < _HARD_BELOW else Rating.Good


def _recall(card: Card, now: str) -> float:
    return float(_scheduler().get_card_retrievability(card, moment(now)))


def _scheduler() -> Scheduler:
    from fsrs import Scheduler

    return Scheduler(enable_fuzzing=False)  # fuzz throws dice
