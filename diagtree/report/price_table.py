"""What all trees cost on all cars: rows as JSON, to be kept from one run to the next, and as a page."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict
from json import JSONDecodeError, dumps, loads
from typing import Any

from diagtree.errors import WrongUse
from diagtree.records import dataclass

SCHEMA = 1
DEAR = 1.10
"""A tree is dear where it costs more than so many times the best strategy found. [-]"""
SELDOM = 50.0
"""A cause is seldom right where fewer of its cars are. [per cent]"""
_REASON = re.compile(r"^#+ *(dear on|seldom right:) (?P<what>[\w-]+) because[ \t]+(?P<reason>\S.*)$", re.MULTILINE)

INTRODUCTION = """# What the trees cost

This page is generated from [prices.json](prices.json), which `diagtree price --table docs/trees/prices.json` computes;
a test fails when page or figures are stale. *price*: expected cost of a car along the tree. *best*: the best strategy
found in the time given; no strategy is cheaper than *bound*. *ratio*: price over best; where it is above {dear:g} the
tree names the reason in its file (`# dear on CAR because REASON`). *right at first*: per cent of cars whose first
correction or advice is the right one, by the catalogue's chances; a car with none of the listed causes counts as not.

*simulated*: the same, counted on simulated cars, by the tree and by the best strategy found. Their readings are those
of physics where a cause says what is broken; all else is drawn from the per cents, each disturbed by up to a fifth. The
same work and parts, or the same advice, as for the true cause count as right. Cars with none of the listed causes are
left out here: a referral is all that is right for them."""


@dataclass(frozen=True, slots=True)
class Seldom:
    """A cause that is seldom right at first: per cent right, what comes first instead, and the strategy's per cent."""

    cause: str
    right: float
    instead: Mapping[str, float]
    strategy: float


@dataclass(frozen=True, slots=True)
class Row:
    """A tree on a car. digest : of the knowledge that it was computed from. seconds : of search. Per cents: 0 to 100.

    right_first : computed, tree. tree_right, strategy_right : of `cars` simulated cars a cause.
    """

    tree: str
    vehicle: str
    digest: str
    seconds: float
    price: float
    best: float
    bound: float
    right_first: float
    cars: int
    tree_right: float
    strategy_right: float
    seldom: tuple[Seldom, ...]

    @property
    def key(self) -> tuple[str, str]:
        """Which row of the table it is."""
        return self.tree, self.vehicle

    @property
    def ratio(self) -> float:
        """Price over the best strategy found."""
        return self.price / self.best if self.best else 1.0


def read_rows(text: str, name: str) -> tuple[Row, ...]:
    """Return the rows kept in a file. Raises WrongUse naming the file where they cannot be read."""
    try:
        document = loads(text)
        return tuple(_row(item) for item in document["rows"])
    except (JSONDecodeError, KeyError, TypeError, AttributeError) as error:
        raise WrongUse(f"`{name}` holds no price table ({error}); name another file, or delete it") from error


def _row(item: Mapping[str, Any]) -> Row:
    return Row(**{**item, "seldom": tuple(Seldom(**one) for one in item["seldom"])})


def write_rows(rows: Iterable[Row]) -> str:
    """Return rows as the text of a file, in order."""
    listed = [asdict(row) for row in sorted(rows, key=lambda row: row.key)]
    return dumps({"schema": SCHEMA, "rows": listed}, indent=1) + "\n"


def reasons_of(text: str) -> Mapping[str, str]:
    """Return a tree's own reasons: car to why the tree may be dear there, cause to why it is seldom right at first.

    They stand in remarks at the left edge: `# dear on CAR because REASON`, `# seldom right: CAUSE because REASON`.
    """
    return {found["what"]: found["reason"].strip() for found in _REASON.finditer(text)}


def page(rows: Iterable[Row], reasons: Mapping[str, Mapping[str, str]]) -> str:
    """Return the table as Markdown. reasons : tree to `reasons_of` its text."""
    known = sorted(rows, key=lambda row: row.key)
    lines = [INTRODUCTION.format(dear=DEAR), ""]
    lines.append("| tree | car | price | best | bound | ratio | right at first | simulated | strategy | searched |")
    lines.append("| --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |")
    lines += [
        f"| [{row.tree}]({row.tree}.md) | {row.vehicle} | {row.price:.0f} | {row.best:.0f} | {row.bound:.0f} "
        f"| {row.ratio:.2f} | {row.right_first:.0f} % | {row.tree_right:.0f} % | {row.strategy_right:.0f} % "
        f"| {row.seconds:g} s |"
        for row in known
    ]
    lines += _listed("Trees that may be dear", _dear(known, reasons))
    title = f"Causes whose first correction or advice is right on fewer than {SELDOM:g} of 100 cars"
    lines += _listed(title, _seldom(known, reasons))
    return "\n".join(lines) + "\n"


def _listed(title: str, lines: Iterator[str]) -> list[str]:
    found = list(lines)
    return ["", f"## {title}", "", *(found or ["None."])]


def _dear(rows: Iterable[Row], reasons: Mapping[str, Mapping[str, str]]) -> Iterator[str]:
    for row in rows:
        if row.ratio > DEAR:
            reason = reasons.get(row.tree, {}).get(row.vehicle, "no reason is given")
            yield f"- {row.tree} on {row.vehicle}, {row.ratio:.2f}: {reason}"


def _seldom(rows: Iterable[Row], reasons: Mapping[str, Mapping[str, str]]) -> Iterator[str]:
    for row in rows:
        for one in row.seldom:
            instead = ", ".join(f"{what} {part:.0f} %" for what, part in one.instead.items())
            reason = reasons.get(row.tree, {}).get(one.cause, "")
            yield (
                f"- {row.tree} on {row.vehicle}: `{one.cause}` {one.right:.0f} %; instead first: {instead}. "
                f"The best strategy gets {one.strategy:.0f} %.{f' Reason: {reason}' if reason else ''}"
            )
