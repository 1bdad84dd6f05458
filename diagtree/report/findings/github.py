"""Findings as workflow commands, one a line: GitHub shows them beside the lines of a pull request.

Source: GitHub Docs, "Workflow commands for GitHub Actions" (error, warning, notice; what is escaped is from memory of
its toolkit's `core` package).
"""

from __future__ import annotations

from diagtree.knowledge.place import Finding, Level
from diagtree.report.findings import Checked, Format

_COMMANDS = {Level.ERROR: "error", Level.WARNING: "warning", Level.REMARK: "notice"}


def render(checked: Checked) -> str:
    """Return one command for each finding."""
    return "".join(f"{_line(one)}\n" for one in checked.findings)


def _line(finding: Finding) -> str:
    place = finding.place
    pairs = {"file": place.file, "line": place.line, "col": place.column, "title": finding.rule}
    said = ",".join(f"{name}={_property(str(value))}" for name, value in pairs.items())
    return f"::{_COMMANDS[finding.level]} {said}::{_data(finding.message)}"


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")


FORMAT = Format(id="github", render=render)
