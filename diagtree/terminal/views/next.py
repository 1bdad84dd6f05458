"""The ranking of acts as a document and as lines."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from diagtree.reason.next_words import act_words
from diagtree.reason.plan import Act
from diagtree.records import dataclass
from diagtree.terminal.views.advice import costs, money, proven, telling

if TYPE_CHECKING:
    from collections.abc import Sequence

    from diagtree.reason.next_act import Advised, After, Overturn
    from diagtree.reason.sharing import Shared
    from diagtree.walk.advice import Comparison


@dataclass(frozen=True, slots=True)
class Page:
    """What is known about the next act of one case.

    says : what the tree says now; None where it says nothing. compared : where that is clearly dearer than another act.
    settled : whether a correction fixed the car, or waits for its proof, so that nothing is ranked.
    overturn : the test to do before the correction or the advice. searched : whether more than a first look was taken.
    """

    case: str
    closed: bool
    doubt: str
    acts: Sequence[Advised]
    shared: Sequence[Shared]
    says: Act | None
    compared: Comparison | None
    overturn: Overturn | None
    searched: bool
    settled: bool = False
    currency: str = ""


def document(page: Page) -> dict[str, Any]:
    """Return the machine face of `next`."""
    return {
        "schema": 1,
        "case": page.case,
        "closed": page.closed,
        "doubt": page.doubt or None,
        "acts": [_act(act) for act in page.acts],
        "tree_says": {"kind": page.says.kind, "id": page.says.id} if page.says else None,
        "evidence_says": _compared(page.compared) if page.compared else None,
        "searched": page.searched,
        "before_order": page.overturn.words if page.overturn else None,
        "shared_access": [{"test": one.test, "now": one.now, "later": one.later} for one in page.shared],
    }


def _compared(one: Comparison) -> dict[str, Any]:
    return {"kind": one.evidence.kind, "id": one.evidence.id, "dearer": one.dearer}


def _act(act: Advised) -> dict[str, Any]:
    return {
        "kind": act.kind,
        "id": act.id,
        "expected_cost": act.expected_cost,
        "lower_bound": act.at_least,
        "minutes": act.minutes,
        "money": act.money,
        "why": act.why,
        "changes_nothing": act.idle,
        "after": [_after(after) for after in act.after],
    }


def _after(after: After) -> dict[str, Any]:
    then = {"kind": after.then.kind, "id": after.then.id} if after.then else None
    return {"outcome": after.outcome, "chance": after.chance, "posterior": dict(after.posterior), "then": then}


def first_lines(case: str, acts: Sequence[Advised], seconds: float, currency: str = "") -> Iterator[str]:
    """Give the first advice in a few lines, to stand while the search runs."""
    yield f"case {case}: at first sight (better in {seconds:g} s)"
    for number, act in enumerate(telling(acts)[:3], 1):
        yield f"{number}. {_name(act)}: {costs(act, currency)}"


def lines(page: Page, most: int = 3, named: int = 5) -> Iterator[str]:
    """Give the ranking in words: the first `most` acts in full, as many as `named` of the others with their cost."""
    yield f"case {page.case}{' (closed)' if page.closed else ''}"
    if page.doubt:
        yield page.doubt
    if page.closed:
        return
    yield from _notices(page)
    shown = telling(page.acts)
    for number, act in enumerate(shown[:most], 1):
        yield ""
        yield f"{number}. {_name(act)}: {costs(act, page.currency)}"
        yield f"   {act.why}"
        if number == 1:
            for after in act.after:
                yield f"   - {after.words}"
    yield ""
    if len(shown) > most:
        others = shown[most : most + named]
        more = len(shown) - most - len(others)
        dearer = ", ".join(f"{_name(act)} {act.expected_cost:,.0f}" for act in others)
        yield f"Dearer: {dearer}" + (f"; and {more} more" if more else "")
    if len(shown) < len(page.acts):
        yield f"Left out: {len(page.acts) - len(shown)} tests that would change nothing to speak of now."
    if page.acts:
        yield f"{'Searched' if page.searched else 'At first sight'}: {proven(page.acts, page.currency)}"
    elif not page.settled:
        yield "Nothing is left to do by this tree; give the car to somebody who knows this system better."
    for one in page.shared:
        now, later = money(one.now, page.currency), money(one.later, page.currency)
        yield f"While it is open: {one.test} costs {now} now, {later} once all is closed."
    yield "The technician decides; local rules, the maker's procedure and a licensed person come first."


def _notices(page: Page) -> Iterator[str]:
    """Give what is said of the act that the tree names."""
    says = act_words(page.says) if page.says else ""
    if page.overturn is not None and page.says is not None:
        when = "Before the part is ordered" if page.says.kind == "correct" else "Before this advice is given"
        yield f"{when}: {page.overturn.words}."
    if page.compared is not None:
        best = page.compared
        yield (
            f"The tree says {says}; today's evidence says {_name(best.evidence)}: at least {best.dearer:,.0f} cheaper "
            "on average."
        )
    elif page.says is not None:
        yield f"The tree says {says}{_beside_the_best(page.acts, page.says)}."


def _beside_the_best(acts: Sequence[Advised], says: Act) -> str:
    """Return what the tree's act costs where it is not the best one, and yet not proven to be clearly dearer."""
    named = next((act for act in acts if (act.kind, act.id) == (says.kind, says.id)), None)
    if named is None or named is acts[0]:
        return ""
    return f": whole case {named.expected_cost:,.0f}; not proven to be clearly dearer than the first below"


def _name(act: Advised) -> str:
    return act_words(Act(act.kind, act.id))
