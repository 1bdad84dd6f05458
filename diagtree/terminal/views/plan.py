"""The best strategy as a document, as lines, and as the head of a tree's file."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from diagtree.reason.next_words import act_words

if TYPE_CHECKING:
    from diagtree.reason.plan import Strategy
    from diagtree.reason.price import Price

NO_TEST = "No test is worth its price at the start; a tree must begin with one, so the cheapest stands there."
CAUTION = (
    "Read it before it is used: the sums know nothing that the catalogue does not say, and nothing of safety. "
    "Put the looks for danger first."
)
CENT = 0.005  # money; less is no difference
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


def lines(tree: str, car: str | None, best: Strategy, written: Price | None = None) -> Iterator[str]:
    """Give the figures in words. written : what the tree costs that was written from the strategy."""
    on = car or "the catalogue as written"
    yield f"{tree} on {on}: the best strategy found costs {best.expected_cost:,.2f} a car."
    yield _proven(best)
    if best.first_act is not None:
        yield f"It begins with: {act_words(best.first_act)}."
        if best.first_act.kind != "test":
            yield NO_TEST
    if written is not None:
        yield f"The tree that was written costs {written.expected_cost:,.2f} a car. {_beside(best, written)}".rstrip()


def heading(
    tree: str, car: str | None, best: Strategy, priced: Price, dangers: Collection[str] = ()
) -> Iterator[str]:
    """Give the comment at the head of the file, in lines that a screen holds.

    dangers : the tests that may stop the job and that people's tree asks before anything else.
    """
    for said in _heading(tree, car, best, priced, dangers):
        yield from wrap(said, WIDTH, break_long_words=False, break_on_hyphens=False)


def _heading(
    tree: str, car: str | None, best: Strategy, priced: Price, dangers: Collection[str]
) -> Iterator[str]:
    yield f"The best strategy found for `{tree}` on {car or 'the catalogue as written'}, as a tree."
    yield f"This tree costs {priced.expected_cost:,.2f} a car, {priced.expected_minutes:,.0f} min in the bay."
    yield f"The search: {best.expected_cost:,.2f} a car. {_proven(best)}"
    beside = _beside(best, priced)
    if beside:
        yield beside
    if not best.exact:
        yield "Every search is one of its own: `price`, or `plan` once more, may find another best."
    if best.first_act is not None and best.first_act.kind != "test":
        yield NO_TEST
    yield CAUTION
    if dangers:
        asked = " and ".join(f"`{test}`" for test in dangers)
        yield f"`{tree}` asks {asked} first, which may stop the job; this tree does not."


def _beside(best: Strategy, written: Price) -> str:
    """Return why the tree costs other than the search said, if it does."""
    more = written.expected_cost - best.expected_cost
    if more > CENT:
        return "It costs more than the search says because its rare branches end early (`--rare`)."
    if more < -CENT:
        return "It costs less than the search says: what was found is a ceiling, and writing it out looked further."
    return ""


def _proven(best: Strategy) -> str:
    if best.exact:
        return "Proven: nothing is cheaper."
    gap = best.expected_cost - best.lower_bound
    share = f", {min(1.0, gap / best.avoidable):.0%} of the avoidable cost" if best.avoidable > 0 else ""
    return f"Proven: nothing is below {best.lower_bound:,.2f}; the gap is {gap:,.2f}{share}."
