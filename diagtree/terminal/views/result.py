"""How far a walk came: the ending it reached, how sure, and what it took; as a document and in words."""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.knowledge.words import TRIAGE, Conclude, Ending, HandOver
from diagtree.records import dataclass
from diagtree.terminal.run_walk import SavedWalk
from diagtree.terminal.views.prompt import whole
from diagtree.walk.account import account, minutes_spent, money_spent
from diagtree.walk.fold import fold
from diagtree.walk.prompts import Prompt
from diagtree.walk.route import ToDecide, ToEnd, belief, route
from diagtree.walk.state import State


@dataclass(frozen=True, slots=True)
class Result:
    """The ending of a walk. Minutes in the bay and money spent up to it: arrangement and tests. [min]"""

    kind: str
    id: str
    posterior: dict[str, float]
    minutes: float
    cost: float


def result(saved: SavedWalk) -> Result | None:
    """Return the first ending that the walk reached, and what it took up to there; None where it reached none yet.

    A case that began at the desk is handed over to its complaint first; the ending there is the one that counts.
    """
    state, sorted_to = State(), None
    for event in saved.events:
        state = fold(saved.walk, (event,), state)
        found = route(saved.walk, state)
        if found.ending is not None and isinstance(found.goal, ToDecide | ToEnd):
            kind, name = _named(found.ending)
            spent = account(saved.walk, state)
            chances = dict(belief(saved.walk, found).chances)
            reached = Result(kind, name, chances, minutes_spent(spent), money_spent(saved.walk, spent))
            if found.tree != TRIAGE:
                return reached
            sorted_to = reached
    return sorted_to


def document(saved: SavedWalk) -> dict[str, object]:
    """Return the machine face of `walk`."""
    found = result(saved)
    return {
        "schema": 1,
        "case": saved.case,
        "tree": saved.walk.tree,
        "vehicle": saved.walk.vehicle,
        "conclusion": {"kind": found.kind, "id": found.id} if found else None,
        "posterior": found.posterior if found else {},
        "minutes": round(found.minutes, 6) if found else None,
        "cost": round(found.cost, 6) if found else None,
        "closed": saved.state.closed,
    }


def lines(saved: SavedWalk, prompt: Prompt | None) -> Iterator[str]:
    """Give the ending in words: the prompt that the walk stands at, with what led there."""
    yield f"case {saved.case}"
    if prompt is None:
        yield f"closed: {saved.state.closed}"
        return
    for block in whole(prompt):
        yield f"{block.first}{block.text}"


def _named(ending: Ending) -> tuple[str, str]:
    if isinstance(ending, Conclude):
        return "conclude", ending.cause
    if isinstance(ending, HandOver):
        return "hand-over", ending.tree
    return "refer", ending.to
