"""The best strategy as a document, as lines, and as the head of a tree's file."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from diagtree.reason.next_words import act_words

if TYPE_CHECKING:
    from diagtree.reason.plan import Strategy
    from diagtree.reason.price import Price

NO_TEST = "No test is worth its price at the start; a tree must begin with one, so the cheapest stands there."
WIDTH = 78  # letters of a line of comment, its sign left out


def document(tree: str, car: str | None, best: Strategy) -> dict[str, Any]:
    """Return the machine face of `plan`."""
    first = best.first_act
    return {
        "schema": 1,
        "tree": tree,
        "vehicle": car,
        "expected_cost": best.expected_cost,
        "expected_minutes": best.expected_minutes,
        "lower_bound": best.lower_bound,
        "exact": best.exact,
        "perfect_information": best.perfect_information,
        "avoidable": best.avoidable,
        "first_act": {"kind": first.kind, "id": first.id} if first else None,
    }


def lines(tree: str, car: str | None, best: Strategy) -> Iterator[str]:
    """Give the figures in words."""
    on = car or "the catalogue as written"
    yield f"{tree} on {on}: the best strategy found costs {best.expected_cost:,.2f} a car."
    yield _proven(best)
    if best.first_act is not None:
        yield f"It begins with: {act_words(best.first_act)}."
        if best.first_act.kind != "test":
            yield NO_TEST


def heading(tree: str, car: str | None, best: Strategy, priced: Price) -> Iterator[str]:
    """Give the comment at the head of the file, in lines that a screen holds."""
    for said in _heading(tree, car, best, priced):
        yield from wrap(said, WIDTH, break_long_words=False, break_on_hyphens=False)


def _heading(tree: str, car: str | None, best: Strategy, priced: Price) -> Iterator[str]:
    yield f"The best strategy found for `{tree}` on {car or 'the catalogue as written'}, as a tree."
    yield f"Strategy: {best.expected_cost:,.2f} a car. {_proven(best)}"
    yield f"This tree: {priced.expected_cost:,.2f} a car, {priced.expected_minutes:,.0f} min in the bay."
    if best.first_act is not None and best.first_act.kind != "test":
        yield NO_TEST
    yield "Read it before it is used: the sums know nothing that the catalogue does not say."


def _proven(best: Strategy) -> str:
    if best.exact:
        return "Proven: nothing is cheaper."
    gap = best.expected_cost - best.lower_bound
    share = f", {min(1.0, gap / best.avoidable):.0%} of the avoidable cost" if best.avoidable > 0 else ""
    return f"Proven: nothing is below {best.lower_bound:,.2f}; the gap is {gap:,.2f}{share}."
