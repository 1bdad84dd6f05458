"""Findings for a person: the place and what to do, then the line as it stands in the file with the word underlined."""

from __future__ import annotations

import re
import textwrap
from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple
from unicodedata import category, east_asian_width

from diagtree.knowledge.place import Finding, Level
from diagtree.report.findings import Checked, Format

_WORD = re.compile(r"\d+(?:,\d+)+|[\w.+/%\u0300-\u036f-]+|\S")
_TAB = "    "
_MARGIN = 8  # of the line's number and its bar
_LONGEST = 100  # columns of a file's line that are shown where nobody says how wide the screen is
_INDENT = "    "
_SHAPING = "\u200c\u200d"  # joiners: they take no room and shape what is beside them


class Span(NamedTuple):
    """A piece of a line, and what it is: place, error, warning, remark, rule, margin, mark, or plain text."""

    text: str
    look: str = ""


Line = tuple[Span, ...]


def render(checked: Checked) -> str:
    """Return all findings as text without colours."""
    return "".join("".join(span.text for span in line).rstrip() + "\n" for line in lines(checked))


def lines(checked: Checked, width: int | None = None) -> Iterator[Line]:
    """Yield the findings line by line. width : columns to lay them out for; None keeps each message on one line."""
    rows: dict[str, list[str]] = {}
    for finding in checked.findings:
        file = finding.place.file
        if file not in rows:
            rows[file] = _rows(checked.texts.get(file, ""))
        yield from _head(finding, width)
        yield from _excerpt(finding, rows[file], width or _LONGEST)
        yield from _witness(finding)
        yield ()


def summary(checked: Checked) -> str:
    """Return how many findings of each level there are, in one line."""
    count = Counter(finding.level for finding in checked.findings)
    said = [_counted(count[level], level.value) for level in Level if count[level]]
    total = f"{_counted(len(checked.findings), 'finding')}"
    return f"{total}: {', '.join(said)}" if said else total


def _counted(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _rows(text: str) -> list[str]:
    return [row.rstrip("\r") for row in re.split(r"\r\n|[\n\r\x85\u2028\u2029]", text.removeprefix("\ufeff"))]


def _head(finding: Finding, width: int | None) -> Iterator[Line]:
    place, level, rule = str(finding.place), finding.level.value, f"[{finding.rule}]"
    whole = f"{place} {level}: {finding.message} {rule}"
    wrapped = [whole] if width is None else textwrap.wrap(
        whole, width, subsequent_indent=_INDENT, break_long_words=False, break_on_hyphens=False
    )  # fmt: skip
    for number, text in enumerate(wrapped):
        spans = []
        rest = text
        if number == 0 and text.startswith(f"{place} {level}:"):
            spans += [Span(place, "place"), Span(" "), Span(f"{level}:", level)]
            rest = text.removeprefix(f"{place} {level}:")
        if number == len(wrapped) - 1 and rest.endswith(rule):
            spans += [Span(rest.removesuffix(rule)), Span(rule, "rule")]
        else:
            spans.append(Span(rest))
        yield tuple(spans)


def _excerpt(finding: Finding, rows: list[str], width: int) -> Iterator[Line]:
    """Yield the line of the file and a line that marks the word; nothing where the file has no such line."""
    line, column = finding.place.line, finding.place.column - 1
    if line > len(rows) or not "".join(rows).strip():
        return
    row = rows[line - 1]
    found = _WORD.match(row, column)
    length = len(found.group()) if found else 1
    first, last = _window(row, column, width - _MARGIN)
    shown, before = _shown(row[first:last]), _shown(row[first:column])
    marked = max(1, _columns(_shown(row[column : min(column + length, last)])))
    more = "..." if first else "", "..." if last < len(row) else ""
    bar = "|"
    yield Span(f"{line:>5} {bar} ", "margin"), Span(f"{more[0]}{shown}{more[1]}")
    yield Span(f"{'':>5} {bar} ", "margin"), Span(" " * (len(more[0]) + _columns(before))), Span("^" * marked, "mark")


def _window(row: str, column: int, width: int) -> tuple[int, int]:
    """Return the stretch of a line to show, about the mark, where the whole is too wide."""
    if _columns(_shown(row)) <= width:
        return 0, len(row)
    first = 0
    while first < column and _columns(_shown(row[first:column])) > width // 2:
        first += 1
    last = len(row)
    while last > first and _columns(_shown(row[first:last])) > width - 6:  # room for dots at both ends
        last -= 1
    return first, last


def _shown(text: str) -> str:
    """Return text as a screen can show it: tabs as blanks, what would steer the screen as a question mark."""
    return "".join(
        _TAB if letter == "\t" else letter if letter.isprintable() or letter in _SHAPING else "?" for letter in text
    )


def _columns(text: str) -> int:
    """Return how many columns a text takes: wide characters two, marks upon others none (Unicode, Annex 11)."""
    return sum(
        0 if letter in _SHAPING or category(letter) in ("Mn", "Me") else 2 if east_asian_width(letter) in "WF" else 1
        for letter in text
    )


def _witness(finding: Finding) -> Iterator[Line]:
    if finding.witness:
        yield (Span(f"{_INDENT}answers that show it (an answers file):", "margin"),)
        for row in finding.witness.rstrip("\n").split("\n"):
            yield (Span(f"{_INDENT}{_INDENT}{_shown(row)}"),)


FORMAT = Format(id="text", render=render)
