"""Cases as lines: columns on a wide screen, two lines a case on a narrow one, one record a line anywhere else."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from diagtree.cases.store import CaseRow
from diagtree.terminal.clock import short

_WIDE = 76


def table(rows: Sequence[CaseRow], columns: int | None) -> Iterator[str]:
    """Give the cases as lines. columns : width of the screen, None where the output is no screen."""
    if columns is None:
        for row in rows:
            yield "  ".join((row.id, row.status, row.tree, row.vehicle, row.changed, str(row.events)))
        return
    if not rows:
        yield "There is no case."
    tree = max((len(row.tree) for row in rows), default=0)
    for row in rows:
        if columns >= _WIDE:
            yield f"{row.id}  {row.status:<8}  {short(row.changed)}  {row.tree:<{tree}}  {row.vehicle}".rstrip()
        else:
            yield f"{row.id}  {row.status}  {short(row.changed)}"
            yield f"  {row.tree} {row.vehicle}".rstrip()


def record(row: CaseRow) -> dict[str, object]:
    """Return a case as plain data."""
    return {
        "case": row.id, "tree": row.tree, "title": row.title, "vehicle": row.vehicle, "status": row.status,
        "opened": row.opened, "changed": row.changed, "by": row.by, "events": row.events,
    }  # fmt: skip


def head(row: CaseRow) -> Iterator[str]:
    """Give what a case is, a line each."""
    yield f"case     {row.id} ({row.status})"
    yield f"tree     {row.tree}: {row.title}"
    yield f"vehicle  {row.vehicle or 'none: the catalogue as written'}"
    yield f"opened   {short(row.opened)}{f' by {row.by}' if row.by else ''}"
    yield f"changed  {short(row.changed)}, {row.events} entries"


def event(body: Mapping[str, Any]) -> str:
    """Return one event of a case as a line: when, what, and everything it says that is not empty."""
    said = [f"{key}={_text(value)}" for key, value in body.items() if key not in ("at", "type", "v") and _says(value)]
    return f"{short(str(body.get('at', '')))}  {body.get('type', '?')}  {' '.join(said)}".rstrip()


def _says(value: Any) -> bool:
    return value not in (None, "", [], {}, False)


def _text(value: Any) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {_text(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_text(inner) for inner in value) + "]"
    return f"{value:.6g}" if isinstance(value, float) else str(value)
