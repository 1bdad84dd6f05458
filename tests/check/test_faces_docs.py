"""The generated page of rules is fresh, and what docs/check.md promises is what the program has."""

from __future__ import annotations

import re
from pathlib import Path

from diagtree.check.rule import rules
from diagtree.report.findings import formats
from diagtree.report.findings.json import row
from diagtree.report.rules_page import page
from diagtree.report.schema import schema_of
from diagtree.terminal.commands.check import COMMAND, KINDS

DOCS = Path(__file__).parents[2] / "docs"
FRESH = (
    "python -c 'from diagtree.check.rule import rules; from diagtree.report.rules_page import page; "
    'print(page(rules()), end="")\' > docs/rules.md'
)


def test_the_page_of_rules_is_fresh() -> None:
    assert (DOCS / "rules.md").read_text("utf-8") == page(rules()), f"stale; write it anew: {FRESH}"


def test_the_page_names_every_rule_once() -> None:
    named = re.findall(r"^\| `([\w-]+)` \|", page(rules()), re.MULTILINE)
    assert sorted(named) == [rule.id for rule in rules()]


def test_every_option_is_documented() -> None:
    text = (DOCS / "check.md").read_text("utf-8")
    for parameter in COMMAND.params:
        for name in parameter.opts if parameter.param_type_name == "option" else ():
            assert f"`{name}" in text or f"{name} " in text, name


def test_formats_and_kinds_of_schema_are_documented() -> None:
    text = (DOCS / "check.md").read_text("utf-8")
    assert all(f"`{one.id}`" in text or f"--format {one.id}" in text for one in formats())
    assert all(kind in text and schema_of(kind) for kind in KINDS)


def test_the_keys_of_the_json_document_are_documented() -> None:
    from diagtree.knowledge.place import Finding, Level, Place

    table = (DOCS / "check.md").read_text("utf-8").partition("each finding has")[2].partition("A witness")[0]
    keys = re.findall(
        r"`(\w+)`", "\n".join(line.split("|")[1] for line in table.splitlines() if line.startswith("| `"))
    )
    assert keys == list(row(Finding("x", Level.ERROR, Place("a"), "m")))
