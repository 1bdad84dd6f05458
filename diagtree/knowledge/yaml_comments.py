"""The comments of a YAML text, with their places. Reading passes them over; only what is said to tools is looked up."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import yaml

_LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


class Comment(NamedTuple):
    """A comment. line, column : where its `#` stands, from 1. alone : nothing else stands on its line."""

    line: int
    column: int
    text: str
    alone: bool


def comments(text: str) -> Iterator[Comment]:
    """Yield every comment of a text; none where it cannot be read as YAML at all."""
    rows = text.removeprefix("\ufeff").splitlines()
    if not any("#" in row for row in rows):
        return
    try:
        taken = _scalars(text.removeprefix("\ufeff"))
    except yaml.YAMLError:
        return
    for number, row in enumerate(rows):
        for column, letter in enumerate(row):
            begins = letter == "#" and (column == 0 or row[column - 1] in " \t")
            if begins and not any(first <= (number, column) < last for first, last in taken.get(number, ())):
                yield Comment(number + 1, column + 1, row[column:].rstrip(), not row[:column].strip())
                break


def _scalars(text: str) -> dict[int, list[tuple[tuple[int, int], tuple[int, int]]]]:
    """Return, by line, the stretches of text that are quoted or blocks: a `#` in there begins no comment."""
    found: dict[int, list[tuple[tuple[int, int], tuple[int, int]]]] = {}
    for token in yaml.scan(text, Loader=_LOADER):
        if isinstance(token, yaml.ScalarToken) and token.style and "#" in token.value:
            first = (token.start_mark.line, token.start_mark.column)
            last = (token.end_mark.line, token.end_mark.column)
            if token.style in "|>":  # a comment may stand behind the sign itself
                first = (first[0] + 1, 0)
            for line in range(first[0], last[0] + 1):
                found.setdefault(line, []).append((first, last))
    return found
