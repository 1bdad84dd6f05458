"""The job record for a terminal: append-only lines without borders, nothing cut, one thing a line."""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.report.job import Format
from diagtree.report.job_record_layout import Block, Bullets, Entry, Pairs, Section, Table, sections
from diagtree.report.job_record_values import JobRecord
from diagtree.report.plain_text import one_line

_INDENT = "  "


def render(record: JobRecord) -> str:
    """Return the record as text; a line that is too long for a screen is for the screen to wrap."""
    return "\n".join(_lines(record)) + "\n"


def _lines(record: JobRecord) -> Iterator[str]:
    yield one_line(f"Job record, case {record.case.number}")
    for section in sections(record):
        yield ""
        yield from section_lines(section)


def section_lines(section: Section) -> Iterator[str]:
    """Give the lines of one section."""
    yield section.title.upper()
    if not section.blocks:
        yield f"{_INDENT}{section.nothing}"
    for block in section.blocks:
        yield from _block(block, _INDENT)


def _block(block: Block, indent: str) -> Iterator[str]:
    match block:
        case Pairs(rows=rows):
            yield from (f"{indent}{one_line(label)}: {one_line(text)}" for label, text in rows if text)
        case Bullets(lines=lines):
            yield from (f"{indent}- {one_line(line)}" for line in lines)
        case Table():
            yield from _table(block, indent)
        case Entry(title=title, inside=inside):
            yield f"{indent}{one_line(title)}"
            for inner in inside:
                yield from _block(inner, indent + _INDENT)


def _table(table: Table, indent: str) -> Iterator[str]:
    for row in table.rows:
        said = [f"{head} {one_line(cell)}" for head, cell in zip(table.heads[1:], row[1:], strict=True) if cell]
        yield f"{indent}{one_line(row[0])}: {', '.join(said)}"


FORMAT = Format(id="text", suffix=".txt", render=render)
