"""The bench card of a car as plain values: tables of texts, for formats to lay out."""

from __future__ import annotations

from dataclasses import field

from diagtree.records import dataclass

ASK = "unknown: ask the maker"
"""What stands where the profile has no value. Never a guess."""


@dataclass(frozen=True, slots=True)
class CardTable:
    """One table of a card: heads and rows of texts, notes below it, and where its limits come from."""

    id: str
    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    source: str
    notes: tuple[str, ...] = field(default=())


@dataclass(frozen=True, slots=True)
class Card:
    """The bench card: whose it is, the cautions that head it, and its tables."""

    vehicle: str
    name: str
    cautions: tuple[str, ...]
    tables: tuple[CardTable, ...]
