"""How well stated chances agree with what the cars turned out to have: Brier score in its three parts, log loss.

A chance of 78 % is worth as much as the share of such cars that really had the cause. Lower is better throughout.
Sources: Brier, Monthly Weather Review 78 (1950); Murphy, Journal of Applied Meteorology 12 (1973), for the parts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf, log

from diagtree.errors import WrongUse
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Parts:
    """The two-class Brier score in parts: reliability - resolution + uncertainty. [-]

    reliability : how far the stated chances are from the shares that came true. resolution : how far those shares
    differ from the overall one. uncertainty : of the overall share, which no forecast changes.
    """

    reliability: float
    resolution: float
    uncertainty: float

    @property
    def score(self) -> float:
        """The mean squared difference between chance and outcome."""
        return self.reliability - self.resolution + self.uncertainty


def log_loss(stated: Sequence[Mapping[str, float]], true: Sequence[str]) -> float:
    """Return the mean of -ln(chance stated for the true cause); infinite where one was held impossible. [-]"""
    _demand_pairs(stated, true)
    chances = [chances.get(one, 0.0) for chances, one in zip(stated, true, strict=True)]
    return sum(-log(chance) if chance > 0 else inf for chance in chances) / len(true)


def two_class(chances: Sequence[float], came_true: Sequence[bool]) -> Parts:
    """Return the parts of the score of one cause's chances; cases of equal chance are taken together."""
    _demand_pairs(chances, came_true)
    groups: dict[float, list[bool]] = {}
    for chance, came in zip(chances, came_true, strict=True):
        groups.setdefault(chance, []).append(came)
    count, overall = len(chances), sum(came_true) / len(chances)
    shares = {chance: sum(came) / len(came) for chance, came in groups.items()}
    return Parts(
        sum(len(came) * (chance - shares[chance]) ** 2 for chance, came in groups.items()) / count,
        sum(len(came) * (shares[chance] - overall) ** 2 for chance, came in groups.items()) / count,
        overall * (1 - overall),
    )


def _demand_pairs(stated: Sequence[object], true: Sequence[object]) -> None:
    if not stated or len(stated) != len(true):
        raise WrongUse(f"{len(stated)} statements for {len(true)} cases: each case needs one, and there must be some")
