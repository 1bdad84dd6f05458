"""What a case has cost so far, by kind: minutes in the bay and money, arrangement included (docs/meaning.md)."""

from __future__ import annotations

from diagtree.knowledge.words import NOT_DONE
from diagtree.records import dataclass
from diagtree.walk.context import Walk
from diagtree.walk.events import Answered, ProofJudged
from diagtree.walk.route import route
from diagtree.walk.state import State


@dataclass(frozen=True, slots=True)
class Line:
    """One entry: kind (test, open, close, make-safe, re-energise, hand-back, correction, proof, advice, part), minutes
    in the bay, labour minutes, price of parts. [min, min, money]"""

    kind: str
    key: str
    minutes: float
    labour: float
    price: float = 0.0


def account(walk: Walk, state: State) -> tuple[Line, ...]:
    """Return what was spent so far, a line each, in the order of kinds.

    A test counts once, however often its answer was typed; what was not done counts nothing. Physical acts count each
    time they happened.
    """
    lines: dict[str, Line] = {}
    for item in state.items:
        if isinstance(item, Answered) and item.outcome != NOT_DONE:
            test = walk.test(item.test)
            lines[item.test] = Line("test", item.test, test.minutes, test.labour)
    found = list(lines.values())
    found += [Line(spent.kind, spent.key, spent.minutes, spent.minutes) for spent in state.spent]
    for cause_id in state.corrected:
        correction = walk.catalogue.causes[cause_id].correction
        assert correction is not None
        found.append(Line("correction", cause_id, correction.minutes, correction.labour))
        found += [Line("part", part.name, 0.0, 0.0, part.price) for part in correction.parts]
    for item in state.items:
        if isinstance(item, ProofJudged):
            proof = walk.catalogue.causes[item.cause].proof
            assert proof is not None
            found.append(Line("proof", item.cause, proof.minutes, proof.labour))
    found += _advice(walk, state)
    return tuple(found)


def _advice(walk: Walk, state: State) -> list[Line]:
    found = route(walk, state)
    if state.closed != "advised" or found.cause is None:
        return []
    advice = walk.catalogue.causes[found.cause].advise
    return [Line("advice", found.cause, advice.minutes, advice.labour)] if advice else []


def minutes_spent(lines: tuple[Line, ...]) -> float:
    """Return the minutes in the bay. [min]"""
    return sum(line.minutes for line in lines)


def money_spent(walk: Walk, lines: tuple[Line, ...]) -> float:
    """Return labour and parts in the house's money."""
    return sum(line.labour for line in lines) / 60 * walk.house.rate + sum(line.price for line in lines)
