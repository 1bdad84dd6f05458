"""Formats of the job card, one a file: each defines `FORMAT = Format(id, suffix, render)`. A new one is a new file.

The job card is what reception hands to the bay: the owner's words, what was answered at the desk, the first ranking of
the causes, how long it may take, what must stay with the car, and what the owner was told for safety's sake.
"""

from __future__ import annotations

from collections.abc import Callable

from diagtree.discover import collect
from diagtree.records import dataclass
from diagtree.report.job_card_values import JobCard


@dataclass(frozen=True, slots=True)
class Format:
    """One format: its name, the suffix of its files, and what turns a card into text."""

    id: str
    suffix: str
    render: Callable[[JobCard], str]


def formats() -> tuple[Format, ...]:
    """Return every format, in the order of the names."""
    from diagtree.report import job_card as room

    return collect(room, "FORMAT", Format)
