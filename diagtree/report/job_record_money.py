"""The account of a job by kind."""

from __future__ import annotations

from collections.abc import Sequence

from diagtree.records import dataclass
from diagtree.walk.account import Line


@dataclass(frozen=True, slots=True)
class KindSum:
    """What one kind took: minutes in the bay, labour minutes, money (labour and parts), and what it was for."""

    kind: str
    minutes: float
    labour: float
    money: float
    what: str


def by_kind(lines: Sequence[Line], rate: float) -> tuple[KindSum, ...]:
    """Return the sums by kind, in the order in which the kinds first occur. rate : money per labour hour."""
    found = []
    for kind in dict.fromkeys(line.kind for line in lines):
        own = [line for line in lines if line.kind == kind]
        labour, price = sum(line.labour for line in own), sum(line.price for line in own)
        what = ", ".join(dict.fromkeys(line.key for line in own if line.key))
        found.append(KindSum(kind, sum(line.minutes for line in own), labour, labour / 60 * rate + price, what))
    return tuple(found)


def money_words(money: float, currency: str) -> str:
    """Return an amount with two decimals and the house's currency."""
    return f"{money:.2f} {currency}".rstrip()
