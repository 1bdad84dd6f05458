"""Where a number stands against the limits of a standard: the record of such limits, and inside, close or outside.

One subject of limits is one file of `standings/`, which defines `LIMITS`; it is found by the quantities it serves.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from math import hypot, inf, isfinite
from typing import TypeAlias

from diagtree.discover import collect
from diagtree.physics.meter import Conformity, conformity, safely_above, safely_below
from diagtree.physics.quantity import Quantity, Value
from diagtree.physics.ranges import amount, plain
from diagtree.records import dataclass

INSIDE, CLOSE, OUTSIDE = "inside", "close", "outside"


@dataclass(frozen=True, slots=True)
class Limit:
    """One pair of limits, in the quantity's unit.

    low, high : they belong to what is inside, save a safety limit; infinite where there is none.
    name : what it is the limit of. safety : the whole uncertainty must be on the safe side of it.
    moves : it moves with the computed value, and so brings that value's uncertainty to what is set against it.
    """

    low: float
    high: float
    name: str
    source: str
    safety: bool = False
    moves: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """What limits are asked for: the quantity, its inputs (standard values filled in), what it computes to, what is
    judged (the same, or a reading set against it), and the uncertainty U of what is computed."""

    one: Quantity
    inputs: Mapping[str, Value]
    computed: float
    judged: float
    expanded: float = 0.0
    is_reading: bool = False


Meaning: TypeAlias = tuple[str, Mapping[str, Value]]
"""A verdict's name and its inputs."""


@dataclass(frozen=True, slots=True)
class Limits:
    """One subject of limits.

    serves : the quantities it has limits for. find : those that hold for what is asked; none is a fine answer.
    meaning : the verdict that says in words what the judged number means, where there is one.
    """

    serves: frozenset[str]
    find: Callable[[Asked], tuple[Limit, ...]]
    meaning: Callable[[Asked], Meaning | None] = lambda _: None


@dataclass(frozen=True, slots=True)
class Standing:
    """A judged number against one limit."""

    limit: Limit
    stands: str


@cache
def subjects() -> tuple[Limits, ...]:
    """Return every subject of limits. Imports them all: for the bench, never for a walk."""
    from diagtree.physics import standings

    return collect(standings, "LIMITS", Limits)


def limits(asked: Asked) -> tuple[Limit, ...]:
    """Return the limits that hold for what is asked, none where no standard has any."""
    return tuple(limit for subject in subjects() if asked.one.id in subject.serves for limit in subject.find(asked))


def meaning(asked: Asked) -> Meaning | None:
    """Return the verdict that puts the judged number into words, or None."""
    return next((found for one in subjects() if asked.one.id in one.serves and (found := one.meaning(asked))), None)


def stand(limit: Limit, asked: Asked, expanded: float) -> Standing:
    """Return where the judged number, of uncertainty U, stands. Source: ILAC-G8:09/2019, guard band w = U.

    A safety limit is inside only by the whole of U, and then strictly. A limit that moves with the computed value adds
    that value's uncertainty, in proportion, to a reading's; the computed value itself it follows wherever it goes.
    """
    value, guard = asked.judged, expanded
    if limit.moves:
        ends = [end for end in (limit.low, limit.high) if isfinite(end)]
        near = min(ends, key=lambda end: abs(end - value), default=0.0)
        share = abs(near / asked.computed) if asked.computed else 1.0
        guard = hypot(expanded, asked.expanded * share) if asked.is_reading else 0.0
    found = conformity(value, guard, limit.low, limit.high)
    if limit.safety and found in (Conformity.PASS, Conformity.CONDITIONAL_PASS):
        above = not isfinite(limit.low) or safely_above(value, limit.low, guard)
        below = not isfinite(limit.high) or safely_below(value, limit.high, guard)
        return Standing(limit, INSIDE if above and below else CLOSE)
    words = {Conformity.PASS: INSIDE, Conformity.FAIL: OUTSIDE}
    return Standing(limit, words.get(found, CLOSE))


def one_sided(limit: Limit) -> bool:
    """Return whether a limit has one end only."""
    return not (isfinite(limit.low) and isfinite(limit.high))


def limit_words(limit: Limit, unit: str, digits: int = 5) -> str:
    """Return a limit as a person reads it: `8.36 to 9.56 V`, `at least 40 kohm`, `below 60 V`."""
    low, high = (float(f"{end:.{digits}g}") for end in (limit.low, limit.high))
    if limit.low == -inf:
        return f"{'below' if limit.safety else 'at most'} {amount(high, unit)}"
    if limit.high == inf:
        return f"{'above' if limit.safety else 'at least'} {amount(low, unit)}"
    upper = amount(high, unit)
    lower = plain(low) if upper == f"{plain(high)} {unit}".rstrip() else amount(low, unit)
    return f"{lower} to {upper}"
