"""Many results of the bench calculator: a table for people, a document, and CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from diagtree.physics.quantity import Quantity
from diagtree.physics.verdict import Verdict
from diagtree.report.bench_result import BenchResult
from diagtree.terminal.views import calc as single

if TYPE_CHECKING:
    from diagtree.terminal.calc_csv import Row


def document(one: Quantity | Verdict, rows: Sequence[Row]) -> dict[str, Any]:
    """Return the machine face: what all rows share, and an array of the rows."""
    return {
        "schema": 1,
        "caution": single.caution(one) or None,
        "quantity": one.id,
        "source": one.source,
        "formula": one.formula if isinstance(one, Quantity) else one.rule,
        "rows": [{"line": row.line, **single.row(row.result), "notes": dict(row.notes)} for row in rows],
    }


def head(one: Quantity | Verdict) -> Iterator[str]:
    """Yield the caution, where the quantity has one."""
    if single.caution(one):
        yield f"CAUTION: {single.caution(one)}"


def table(one: Quantity | Verdict, rows: Sequence[Row]) -> Iterator[str]:
    """Yield the table: line, inputs, result, where it stands, notes."""
    notes = tuple(rows[0].notes)
    names = tuple(dict.fromkeys(name for row in rows for name in row.cells))
    # The numbers that decide come first: a narrow screen wraps what is behind them.
    heads = ("line", *names, rows[0].result.meaning if rows[0].result.solved else one.id, *_standing_head(rows), *notes)
    cells = [heads] + [
        (
            str(row.line),
            *(row.cells.get(name, "-") for name in names),
            single.value_words(row.result),
            *_standing(row.result, rows),
            *(row.notes[note] for note in notes),
        )
        for row in rows
    ]
    widths = [max(len(line[place]) for line in cells) for place in range(len(heads))]
    for line in cells:
        yield "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()


def foot(one: Quantity | Verdict, rows: Sequence[Row]) -> Iterator[str]:
    """Yield what all rows share: limits' sources, formula and source."""
    yield from single.assumed_line(rows[0].result)
    limits = dict.fromkeys((one.limit.name, one.limit.source) for row in rows for one in row.result.standings)
    for name, source in limits:
        yield f"  limits   {name}: {source}"
    yield f"  formula  {one.formula}" if isinstance(one, Quantity) else f"  rule     {one.rule}"
    yield f"  source   {one.source}"


def csv_text(one: Quantity | Verdict, rows: Sequence[Row]) -> str:
    """Return the rows as CSV with commas and decimal points, the caution as a remark (`# ...`) above the header."""
    out = io.StringIO()
    if single.caution(one):
        out.write(f"# CAUTION: {single.caution(one)}\n")
    units = {item.name: item.unit for item in one.inputs}
    names = tuple(dict.fromkeys(name for row in rows for name in row.result.inputs))
    unit, notes = rows[0].result.unit, tuple(rows[0].notes)
    writer = csv.writer(out, lineterminator="\n")
    ends = (_headed("value", unit), *((_headed("uncertainty", unit),) if unit else ()), "stands", "means", "source")
    writer.writerow(("line", *(_headed(name, units[name]) for name in names), *_also(rows, one), *ends, *notes))
    for row in rows:
        result = row.result
        given = [result.inputs[name].value if name in result.inputs else "" for name in names]
        spread = ((result.expanded if result.expanded is not None else ""),) if unit else ()
        writer.writerow(
            (row.line, *map(_cell, given), *_also_cells(row.result), _cell(result.value), *spread, worst(result),
             result.says.words if result.says else "", one.source, *map(_harmless, row.notes.values()))
        )  # fmt: skip
    return out.getvalue()


def worst(result: BenchResult) -> str:
    """Return in one word each where a result stands: `state B, healthy: inside; state B, recognised: inside`."""
    return "; ".join(f"{standing.limit.name}: {standing.stands}" for standing in result.standings)


def _standing_head(rows: Sequence[Row]) -> tuple[str, ...]:
    return ("stands",) if any(row.result.standings or row.result.says for row in rows) else ()


def _standing(result: BenchResult, rows: Sequence[Row]) -> tuple[str, ...]:
    if not _standing_head(rows):
        return ()
    if isinstance(result.one, Verdict):
        return (f"or {' or '.join(result.says.could_be)}" if result.says else "sure",)
    alone = result.standings[0].stands if len(result.standings) == 1 else worst(result)
    said = result.says.words if result.says else alone
    unsure = f" (or {' or '.join(result.says.could_be)})" if result.says and result.says.could_be else ""
    return (said + unsure or "-",)


def _also(rows: Sequence[Row], one: Quantity | Verdict) -> tuple[str, ...]:
    """Return the heads of what was given beside the inputs: the value that was solved, or a reading."""
    unit = one.unit if isinstance(one, Quantity) else ""
    if rows[0].result.given is not None:
        return (_headed(one.id, unit),)
    return (_headed("reading", unit),) if rows[0].result.reading is not None else ()


def _also_cells(result: BenchResult) -> tuple[object, ...]:
    also = result.given or result.reading
    return () if also is None else (_cell(also.value),)


def _headed(name: str, unit: str) -> str:
    return name if unit in ("", "word", "text", "facts") else f"{name} [{unit}]"


def _cell(value: object) -> object:
    if isinstance(value, dict):
        return " ".join(str(part) if name == "kind" else f"{name}={part}" for name, part in value.items())
    return value


def _harmless(note: str) -> str:
    """Return a note that a spreadsheet shows and never computes."""
    return f"'{note}" if note.lstrip()[:1] in ("=", "+", "-", "@") else note
