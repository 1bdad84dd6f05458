"""The bench card for a terminal or a text printer: 80 columns, plain letters, one page."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from diagtree.report.bench_card_values import Card, CardTable
from diagtree.report.card import Format
from diagtree.report.plain_text import one_line

COLUMNS = 80


def render(card: Card) -> str:
    """Return the card as text of at most 80 columns."""
    return "\n".join(_lines(card)) + "\n"


def _lines(card: Card) -> Iterator[str]:
    yield from _wrapped(f"BENCH CARD  {one_line(card.name)} ({one_line(card.vehicle)})", "")
    for caution in card.cautions:
        yield from _wrapped(f"! {one_line(caution)}", "  ")
    for table in card.tables:
        yield from _table(table)
    yield "SOURCES"
    text = "; ".join(f"{table.title}: {one_line(table.source)}" for table in card.tables)
    yield from _wrapped(text, "", "")


def _table(table: CardTable) -> Iterator[str]:
    rows = [tuple(one_line(cell) for cell in row) for row in (table.heads, *table.rows)]
    widths = [max(len(row[place]) for row in rows) for place in range(len(table.heads))]
    yield one_line(table.title).upper()
    for row in rows:
        line = "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        # A cell that makes its row too long for the page goes on below, never cut.
        yield from _wrapped(f"  {line.rstrip()}", "      ", keep=True)
    for note in table.notes:
        yield from _wrapped(f"  {one_line(note)}", "    ")


def _wrapped(line: str, deep: str, first: str = "", *, keep: bool = False) -> Iterator[str]:
    if keep and len(line) <= COLUMNS:
        yield line
        return
    indent = first or " " * (len(line) - len(line.lstrip()))
    yield from textwrap.wrap(
        line.strip(), COLUMNS, initial_indent=indent, subsequent_indent=deep, break_on_hyphens=False
    )


FORMAT = Format(id="text", suffix=".txt", render=render)
