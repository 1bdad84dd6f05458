"""Findings as one JSON document (docs/check.md)."""

from __future__ import annotations

from json import dumps

from diagtree.knowledge.place import Finding
from diagtree.report.findings import Checked, Format

SCHEMA = 1  # raised when a key changes its meaning; more keys are no change


def row(finding: Finding) -> dict[str, str | int | None]:
    """Return one finding as plain values."""
    return {
        "rule": finding.rule,
        "level": finding.level.value,
        "file": finding.place.file,
        "line": finding.place.line,
        "column": finding.place.column,
        "message": finding.message,
        "witness": finding.witness,
    }


def render(checked: Checked) -> str:
    """Return the document, in ASCII so that every stream carries it."""
    return dumps({"schema": SCHEMA, "findings": [row(one) for one in checked.findings]}, indent=2) + "\n"


FORMAT = Format(id="json", render=render)
