"""The bench card as one HTML file: nothing is loaded from elsewhere, and it prints on one A4 page."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from diagtree.report.bench_card_values import Card, CardTable
from diagtree.report.card import Format
from diagtree.report.plain_text import one_line

_SHORT = 16  # letters

STYLE = """
@page { size: A4; margin: 9mm; }
* { box-sizing: border-box; }
body { font: 8.3pt/1.3 "DejaVu Sans", Verdana, Arial, sans-serif; color: #000; background: #fff;
  max-width: 192mm; margin: 0 auto; }
h1 { font-size: 14pt; margin: 0 0 1.5mm; }
h2 { font-size: 9pt; margin: 0 0 .6mm; border-bottom: .4mm solid #000; }
.caution { border: .7mm solid #000; padding: 1mm 2mm; margin: 0 0 2mm; font-weight: bold; }
.caution p { margin: 0; }
.tables { columns: 2; column-gap: 5mm; }
section { break-inside: avoid; margin: 0 0 2.2mm; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .25mm 1.5mm .25mm 0; border-bottom: .1mm solid #999; }
th { font-size: 8pt; }
.whole { white-space: nowrap; }
p.note { margin: .5mm 0 0; font-size: 8pt; }
footer { font-size: 7.2pt; line-height: 1.2; border-top: .4mm solid #000; padding-top: .8mm; }
footer p { margin: 0; }
""".strip()


def render(card: Card) -> str:
    """Return the card as HTML."""
    return "\n".join(_lines(card)) + "\n"


def _lines(card: Card) -> Iterator[str]:
    title = f"Bench card: {_safe(card.name)} ({_safe(card.vehicle)})"
    yield "<!DOCTYPE html>"
    yield f'<html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield f"<style>\n{STYLE}\n</style></head><body>"
    yield f"<h1>{title}</h1>"
    yield '<div class="caution" role="note">'
    yield from (f"<p>{_safe(caution)}</p>" for caution in card.cautions)
    yield "</div>"
    yield '<main class="tables">'
    for table in card.tables:
        yield from _table(table)
    yield "</main>"
    sources = "; ".join(f"{_safe(table.title)}: {_safe(table.source)}" for table in card.tables)
    yield f"<footer><p>Sources. {sources}</p></footer>"
    yield "</body></html>"


def _table(table: CardTable) -> Iterator[str]:
    yield f"<section><h2>{_safe(table.title)}</h2><table>"
    yield _row('th scope="col"', table.heads)
    for row in table.rows:
        yield _row("td", row)
    yield "</table>"
    yield from (f'<p class="note">{_safe(note)}</p>' for note in table.notes)
    yield "</section>"


def _row(tag: str, cells: tuple[str, ...]) -> str:
    end = tag.partition(" ")[0]
    return "<tr>" + "".join(f"<{tag}{_whole(cell, end)}>{_safe(cell)}</{end}>" for cell in cells) + "</tr>"


def _whole(cell: str, tag: str) -> str:
    """Return the mark of a cell that stays on one line: a range that breaks is read wrong."""
    return ' class="whole"' if tag == "td" and len(cell) <= _SHORT else ""


def _safe(text: str) -> str:
    return escape(one_line(text))


FORMAT = Format(id="html", suffix=".html", render=render)
