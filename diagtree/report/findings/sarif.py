"""Findings as SARIF 2.1.0, the format that code-review tools read.

Source: OASIS Standard, "Static Analysis Results Interchange Format (SARIF) Version 2.1.0", 27 March 2020: 3.14 (run),
3.19 (toolComponent), 3.27 (result), 3.30 (region), 3.49 (reportingDescriptor).
"""

from __future__ import annotations

from json import dumps
from typing import Any
from urllib.parse import quote

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Finding, Level
from diagtree.report.findings import Checked, Format

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_LEVELS = {Level.ERROR: "error", Level.WARNING: "warning", Level.REMARK: "note"}


def render(checked: Checked) -> str:
    """Return the log: one run, all rules, one result for each finding."""
    index = {rule.id: number for number, rule in enumerate(checked.rules)}
    driver = {"name": "diagtree", "version": checked.version, "rules": [_rule(rule) for rule in checked.rules]}
    run = {
        "tool": {"driver": driver},
        "columnKind": "unicodeCodePoints",  # 3.14.17: places count characters
        "results": [_result(one, index) for one in checked.findings],
    }
    return dumps({"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}, indent=2) + "\n"


def _rule(rule: Rule) -> dict[str, Any]:
    return {
        "id": rule.id,
        "shortDescription": {"text": rule.finds},
        "fullDescription": {"text": f"{rule.finds} {rule.why}"},
        "help": {"text": f"diagtree check explain {rule.id}"},
        "defaultConfiguration": {"level": _LEVELS[rule.level]},
        "properties": {"family": rule.family},
    }


def _result(finding: Finding, index: dict[str, int]) -> dict[str, Any]:
    result: dict[str, Any] = {
        "ruleId": finding.rule,
        "level": _LEVELS[finding.level],
        "message": {"text": _literal(finding.message)},
        "locations": [
            {
                "physicalLocation": {
                    "artifactLocation": {"uri": _uri(finding.place.file)},
                    "region": {"startLine": finding.place.line, "startColumn": finding.place.column},
                }
            }
        ],
    }
    if finding.rule in index:
        result["ruleIndex"] = index[finding.rule]
    if finding.witness is not None:
        result["properties"] = {"witness": finding.witness}
    return result


def _literal(text: str) -> str:
    """Return a message whose braces are no placeholders (3.11.5)."""
    return text.replace("{", "{{").replace("}", "}}")


def _uri(file: str) -> str:
    """Return the file as a URI (3.4.3): relative as it is named, absolute with its scheme."""
    path = quote(file.replace("\\", "/"))
    return f"file://{path}" if path.startswith("/") else path


FORMAT = Format(id="sarif", render=render, names_rules=True)
