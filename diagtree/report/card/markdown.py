"""The bench card as Markdown (CommonMark with tables)."""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.report.bench_card_values import Card, CardTable
from diagtree.report.card import Format
from diagtree.report.job.markdown import escape


def render(card: Card) -> str:
    """Return the card as Markdown."""
    return "\n".join(_lines(card)) + "\n"


def _lines(card: Card) -> Iterator[str]:
    yield f"# Bench card: {escape(card.name)} ({escape(card.vehicle)})"
    for caution in card.cautions:
        yield from ("", f"> **{escape(caution)}**")
    for table in card.tables:
        yield ""
        yield from _table(table)
    yield from ("", "## Sources", "")
    yield from (f"- {escape(table.title)}: {escape(table.source)}" for table in card.tables)


def _table(table: CardTable) -> Iterator[str]:
    yield from (f"## {escape(table.title)}", "")
    for number, row in enumerate((table.heads, *table.rows)):
        yield f"| {' | '.join(escape(cell) for cell in row)} |"
        if number == 0:
            yield f"| {' | '.join('---' for _ in row)} |"
    for note in table.notes:
        yield from ("", escape(note))


FORMAT = Format(id="markdown", suffix=".md", render=render)
