"""The ranking of acts as a document and as lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from diagtree.reason.next_act import Advised, After, Overturn, Shared


@dataclass(frozen=True, slots=True)
class Page:
    """What is known about the next act of one case.

    says : what the tree says now (kind and id; id None where it says nothing).
    better : the best act, where what the tree says is clearly dearer. overturn : the test to do before the correction.
    """

    case: str
    closed: bool
    doubt: str
    acts: tuple[Advised, ...]
    shared: tuple[Shared, ...]
    says: tuple[str, str | None]
    better: Advised | None
    overturn: Overturn | None


def document(page: Page) -> dict[str, Any]:
    """Return the machine face of `next`."""
    return {
        "schema": 1,
        "case": page.case,
        "closed": page.closed,
        "doubt": page.doubt or None,
        "acts": [_act(act) for act in page.acts],
        "tree_says": {"kind": page.says[0], "id": page.says[1]} if page.says[1] else None,
        "evidence_says": {"kind": page.better.kind, "id": page.better.id} if page.better else None,
        "before_order": page.overturn.words if page.overturn else None,
        "shared_access": [{"test": one.test, "now": one.now, "later": one.later} for one in page.shared],
    }


def _act(act: Advised) -> dict[str, Any]:
    return {
        "kind": act.kind,
        "id": act.id,
        "expected_cost": act.expected_cost,
        "lower_bound": act.at_least,
        "minutes": act.minutes,
        "money": act.money,
        "why": act.why,
        "after": [_after(after) for after in act.after],
    }


def _after(after: After) -> dict[str, Any]:
    then = {"kind": after.then.kind, "id": after.then.id} if after.then else None
    return {"outcome": after.outcome, "chance": after.chance, "posterior": dict(after.posterior), "then": then}


def lines(page: Page, most: int = 6) -> Iterator[str]:
    """Give the ranking in words; only the first `most` acts in full."""
    yield f"case {page.case}{' (closed)' if page.closed else ''}"
    if page.doubt:
        yield page.doubt
    if page.better is not None:
        yield f"The tree says {page.says[0]} {page.says[1]}; today's evidence says {_name(page.better)}."
    if page.overturn is not None:
        yield f"Before the part is ordered: {page.overturn.words}."
    for number, act in enumerate(page.acts[:most], 1):
        yield ""
        own = f"this act {act.money:,.0f}, {act.minutes:g} min"
        yield f"{number}. {_name(act)}: whole case {act.expected_cost:,.0f}, {own}"
        yield f"   {act.why}"
        if number == 1:
            for after in act.after:
                yield f"   - {after.words}"
    if len(page.acts) > most:
        yield ""
        yield f"dearer: {', '.join(_name(act) for act in page.acts[most:])}"
    if not page.acts:
        yield "Nothing is left to do by this tree; ask somebody who knows this system better."
    for one in page.shared:
        yield f"While it is open: {one.test} costs {one.now:,.0f} now, {one.later:,.0f} once all is closed."
    yield "The technician decides; local rules, the maker's procedure and a licensed person come first."


def _name(act: Advised) -> str:
    return act.kind if act.id is None else f"{act.kind} {act.id}"
