"""Formats of the job record, one a file: each defines `FORMAT = Format(id, suffix, render)`. A new one is a new file.

A format is pure: it gets the finished record, times included, and gives text. It lays out
`report.job_record_layout.sections`, whose texts are people's: it must make them harmless for its own notation.
"""

from __future__ import annotations

from collections.abc import Callable

from diagtree.discover import collect
from diagtree.records import dataclass
from diagtree.report.job_record_values import JobRecord


@dataclass(frozen=True, slots=True)
class Format:
    """One format: the word for `--format`, the suffix of its files, and what turns a record into text."""

    id: str
    suffix: str
    render: Callable[[JobRecord], str]


def formats() -> tuple[Format, ...]:
    """Return every format, in the order of the names."""
    from diagtree.report import job as room

    return collect(room, "FORMAT", Format)
