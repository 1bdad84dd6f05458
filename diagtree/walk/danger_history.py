"""Whether a danger stands in this case: found, not taken back, and nothing was mended since; and what looks found."""

from __future__ import annotations

from diagtree.knowledge.words import NOT_DONE
from diagtree.walk.context import Walk
from diagtree.walk.dangers import BY_ID, NOTHING
from diagtree.walk.events import Answered, Looked, ProofJudged
from diagtree.walk.state import State


def danger_stands(walk: Walk, state: State) -> bool:
    """Return whether the first look or a test found a danger that no correction followed.

    The walk may have gone on in the tree that is made for it; its tests are then shown with one caution more.
    """
    stands = False
    for item in state.items:
        match item:
            case Looked(found=found):
                stands = stands or found != NOTHING
            case Answered(test=test, outcome=outcome):
                stands = stands or outcome in walk.test(test).stop
            case ProofJudged():  # a correction was made, and a charge ran after it
                stands = False
            case _:
                pass
    return stands


_LOOKED_AT = ("inlet", "plug", "cable")


def looks_on_record(walk: Walk, state: State, conditions: tuple[str, ...]) -> tuple[str, ...]:
    """Return what looks at inlet, plug or cable found, where a condition speaks of a look."""
    if not any("look" in line.casefold() for line in conditions):
        return ()
    found: dict[str, str] = {}
    for item in state.items:
        if isinstance(item, Looked) and item.found in BY_ID:
            found["first look"] = f"{item.found} ({BY_ID[item.found].text})"
        elif isinstance(item, Answered) and "look" in item.test and any(word in item.test for word in _LOOKED_AT):
            healthy = item.outcome in (walk.test(item.test).healthy, NOT_DONE)
            found[item.test] = "" if healthy else item.outcome
    told = [f"{name}: {what}" for name, what in found.items() if what]
    if not told:
        return ()
    return (
        f"The record says otherwise: {'; '.join(told)}. "
        "`yes` only if it was mended or cleared up since, and looked at again; a `note` says by whom.",
    )
