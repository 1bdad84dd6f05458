"""The front of a job card: what is needed while the owner is still there, short enough for one screen of 24 lines.

Safety is told in full whatever it takes; all else is on the whole card.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.report.job_card_safety import NOT_SAFE
from diagtree.report.job_card_values import CAUTION_FIRST, JobCard
from diagtree.report.job_record_conclusion import chance_words
from diagtree.report.plain_text import one_line

_MOST = 3  # causes by name
_KEEP = "cables, key, charge card or phone, a picture of the message"


def front(card: JobCard) -> tuple[str, ...]:
    """Return the lines; one that is too long is for the screen to wrap."""
    about = f": {card.title}" if card.title else ", complaint not found yet"
    told = tuple(f"  - {one_line(line)}" for line in card.safety if line != NOT_SAFE)  # the last line says it too
    return (
        one_line(f"Job card, case {card.case}{about}"),
        "SAFETY: TELL THE OWNER",
        *told,
        *_likeliest(card),
        *_then(card),
        CAUTION_FIRST,
    )


def _likeliest(card: JobCard) -> Iterator[str]:
    if not card.ranking:
        return
    yield "LIKELIEST SO FAR"
    for one in card.ranking[:_MOST]:
        yield f"  - {chance_words(one.chance)}: {one_line(one.name)}"
    rest = card.ranking[_MOST:]
    outside = "" if card.outside is None else f"; outside the car: {chance_words(card.outside)} in all"
    if rest:
        yield f"  - {chance_words(sum(one.chance for one in rest))}: {len(rest)} others{outside}"


def _then(card: JobCard) -> Iterator[str]:
    if card.danger:
        yield one_line(card.stands_at)
        return
    yield "IN THE BAY" + (f": `{card.go_on}`" if card.go_on else "")
    bay = card.bay
    if bay is None:
        yield f"  - {one_line(card.stands_at)}"
    else:
        yield (
            f"  - The cause is found in {bay.mean:.0f} min on average, in 8 of 10 cars within {bay.in_10:.0f} to "
            f"{bay.in_90:.0f}."
        )
    yield f"  - Keep: {_KEEP}."
