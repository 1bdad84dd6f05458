"""Formats of what `check` found, one a file: each defines `FORMAT = Format(id, render)`. A new one is a new file.

A format is pure: it gets the findings, the files' texts and the rules, and gives text.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from diagtree.check.rule import Rule
from diagtree.discover import collect
from diagtree.knowledge.place import Finding
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Checked:
    """What a check found.

    texts : file, as in the findings' places, to its text. rules : the rules that findings may name; a format that does
    not need them gets none. version : diagtree's. strict : remarks count as well.
    """

    findings: tuple[Finding, ...]
    texts: Mapping[str, str]
    rules: tuple[Rule, ...] = ()
    version: str = ""
    strict: bool = False


@dataclass(frozen=True, slots=True)
class Format:
    """One format: the word for `--format`, and what turns findings into text."""

    id: str
    render: Callable[[Checked], str]
    names_rules: bool = False  # whether it tells of the rules themselves


def formats() -> tuple[Format, ...]:
    """Return every format, in the order of the names."""
    from diagtree.report import findings as room

    return collect(room, "FORMAT", Format)
