"""Cases as lines: columns on a wide screen, two lines a case on a narrow one, one record a line anywhere else."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from diagtree.cases.listing import cut
from diagtree.cases.store import CaseRow
from diagtree.knowledge.words import TRIAGE
from diagtree.terminal.clock import short

_WIDE = 76
_LEAST = 12  # letters of a complaint beside a vehicle; where they do not fit, each case takes two lines


def table(rows: Sequence[CaseRow], columns: int | None) -> Iterator[str]:
    """Give the cases as lines. columns : width of the screen, None where the output is no screen."""
    if columns is None:
        for row in rows:
            yield "  ".join((row.id, row.status, row.complaint, row.vehicle, row.changed, str(row.events)))
        return
    if not rows:
        yield "There is no case."
        return
    starts = [f"{row.id}  {row.status:<8}  {short(row.changed)}" for row in rows]
    room = columns - max(map(len, starts)) - max(len(row.vehicle) for row in rows) - 4
    width = min(room, max(len(_complaint(row)) for row in rows))
    if columns < _WIDE or room < _LEAST:
        for row in rows:
            yield f"{row.id}  {row.status}  {short(row.changed)}"
            vehicle = cut(row.vehicle, columns - _LEAST - 3)
            yield f"  {cut(_complaint(row), columns - len(vehicle) - 3)} {vehicle}".rstrip()
        return
    for start, row in zip(starts, rows, strict=True):
        yield f"{start}  {cut(_complaint(row), width):<{width}}  {row.vehicle}".rstrip()


def _complaint(row: CaseRow) -> str:
    """Return the complaint's tree; at the desk, as long as nobody knows which, what the owner says."""
    return f"desk: {row.title}" if row.complaint == TRIAGE else row.complaint


def record(row: CaseRow) -> dict[str, object]:
    """Return a case as plain data."""
    return {
        "case": row.id, "tree": row.tree, "complaint": row.complaint, "title": row.title, "vehicle": row.vehicle,
        "status": row.status, "opened": row.opened, "changed": row.changed, "by": row.by, "events": row.events,
    }  # fmt: skip


def head(row: CaseRow) -> Iterator[str]:
    """Give what a case is, a line each."""
    yield f"case     {row.id} ({row.status})"
    begun = f" (begun with {row.tree})" if row.tree != row.complaint else ""
    yield f"tree     {row.complaint}{begun}: {row.title}"
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
