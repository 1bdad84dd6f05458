"""The job record as Markdown (CommonMark with tables). Nothing that a person typed becomes markup."""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.report.job import Format
from diagtree.report.job_record_layout import Block, Bullets, Entry, Pairs, Section, Table, sections
from diagtree.report.job_record_values import JobRecord
from diagtree.report.plain_text import one_line

# Signs that mean something inside a line, in CommonMark or in the usual extensions (tables, strikethrough, mathematics,
# mentions). A backslash before any ASCII punctuation makes it plain (CommonMark, "Backslash escapes").
_INLINE = re.compile(r"[#\\`*_\[\]<>|~&$@^{}!]")
# Web addresses that some readers turn into links by themselves.
_ADDRESS = re.compile(r"(?<=:)(?=//)|(?<=www)(?=\.)", re.IGNORECASE)
# Signs that mean something at the beginning of a line: headings, lists, rules, numbered lists, quotations.
_START = re.compile(r"^(?=[+\-=:])|^(\d{1,9})(?=[.)])")


def escape(text: str) -> str:
    """Return people's text on one line, so that Markdown shows it as it was typed."""
    safe = _INLINE.sub(lambda found: "\\" + found[0], one_line(text))
    safe = _ADDRESS.sub(r"\\", safe)
    return _START.sub(lambda found: f"{found[1] or ''}\\", safe)


def render(record: JobRecord) -> str:
    """Return the record as Markdown."""
    return "\n".join(_lines(record)) + "\n"


def _lines(record: JobRecord) -> Iterator[str]:
    yield f"# Job record, case {escape(record.case.number)}"
    for section in sections(record):
        yield ""
        yield from section_lines(section)


def section_lines(section: Section) -> Iterator[str]:
    """Give the lines of one section."""
    yield f"## {escape(section.title)}"
    if not section.blocks:
        yield from ("", escape(section.nothing))
    for block in section.blocks:
        yield ""
        yield from _block(block)


def _block(block: Block) -> Iterator[str]:
    match block:
        case Pairs(rows=rows):
            yield from (f"- **{escape(label)}:** {escape(text)}" for label, text in rows if text)
        case Bullets(lines=lines):
            yield from (f"- {escape(line)}" for line in lines)
        case Table(heads=heads, rows=rows):
            yield _row(heads)
            yield _row(("---",) * len(heads), plain=True)
            yield from (_row(row) for row in rows)
        case Entry(title=title, inside=inside):
            yield f"### {escape(title)}"
            for inner in inside:
                yield ""
                yield from _block(inner)


def _row(cells: tuple[str, ...], *, plain: bool = False) -> str:
    return "| " + " | ".join(cell if plain else escape(cell) for cell in cells) + " |"


FORMAT = Format(id="markdown", suffix=".md", render=render)
