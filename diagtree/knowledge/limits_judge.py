"""Which outcome a judged number is, and how sure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from diagtree.errors import OutOfRange
from diagtree.knowledge.limits_nodes import LimitError
from diagtree.physics.meter import COVERAGE, interval_chances, is_close
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Judged:
    """What a judged number means.

    outcome : the outcome of the reading itself.
    close : the expanded uncertainty reaches over a limit.
    chances : chance of each outcome, in the order of the limits; certain for `outcome` where it is not close.
    """

    outcome: str
    close: bool
    chances: Mapping[str, float]


def judge(limits: Sequence[tuple[str, float | None]], value: float, standard: float = 0.0) -> Judged:
    """Return the outcome of `value` among ascending `limits`: the first whose limit it is below, else the last.

    limits : outcome and its upper limit, which does not belong to it; the last one is open (None).
    value : the judged number; infinity (OL) is the last outcome. standard : its standard uncertainty, same unit.

    Raises LimitError where limits descend (they crossed for this car or reading) or `value` is not a number.
    """
    edges = _edges(limits)
    if value != value:
        raise LimitError("the judged number is not a number")
    place = next((index for index, edge in enumerate(edges) if value < edge), len(edges))
    outcome = limits[place][0]
    if not is_close(edges, value, COVERAGE * standard):
        return Judged(outcome, False, {name: float(index == place) for index, (name, _) in enumerate(limits)})
    try:
        chances = interval_chances(edges, value, standard)
    except OutOfRange as error:
        raise LimitError(str(error)) from error
    return Judged(outcome, True, {name: chance for (name, _), chance in zip(limits, chances, strict=True)})


def _edges(limits: Sequence[tuple[str, float | None]]) -> tuple[float, ...]:
    edges = tuple(limit for _, limit in limits if limit is not None)
    if not limits or limits[-1][1] is not None or len(edges) != len(limits) - 1:
        raise LimitError("the last outcome, and only the last, must be open: `otherwise`")
    for (lower, low), (upper, high) in pairwise(limits):
        if low is not None and high is not None and not low <= high:
            raise LimitError(f"the limits cross: `{lower}` ends at {low:g}, `{upper}` at {high:g}")
    if any(edge != edge for edge in edges):
        raise LimitError("a limit is not a number")
    return edges
