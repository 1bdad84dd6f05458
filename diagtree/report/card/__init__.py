"""Formats of the bench card, one a file: each defines `FORMAT = Format(id, suffix, render)`. A new one is a new file.

A format is pure and fits one printed A4 page; its texts are people's, so it makes them harmless for its own notation.
"""

from __future__ import annotations

from collections.abc import Callable

from diagtree.discover import collect
from diagtree.records import dataclass
from diagtree.report.bench_card_values import Card


@dataclass(frozen=True, slots=True)
class Format:
    """One format: the word for `--format`, the suffix of its files, and what turns a card into text."""

    id: str
    suffix: str
    render: Callable[[Card], str]


def formats() -> tuple[Format, ...]:
    """Return every format, in the order of the names."""
    from diagtree.report import card as room

    return collect(room, "FORMAT", Format)
