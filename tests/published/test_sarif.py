"""`check --format sarif` against the published schema of SARIF 2.1.0, and what the standard says beyond its schema.

Source: OASIS Standard, "Static Analysis Results Interchange Format (SARIF) Version 2.1.0", with its JSON schema at
https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json. The schema is not copied
here: the package `pydantic-sarif` holds the types that a generator made of that file, and refuses what it refuses.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pydantic import ValidationError
from pydantic_sarif.model import StaticAnalysisResultsFormatSarifVersion210JsonSchema as Log

from diagtree.check.example import BASE
from diagtree.check.rule import rules
from diagtree.knowledge.place import Finding, Level, Place
from diagtree.report.findings import Checked
from diagtree.report.findings.sarif import render
from diagtree.terminal.main import main

FINDINGS = (
    Finding(
        "unreached-step", Level.ERROR, Place("trees/a tree.yaml", 4, 3), "no answers lead to `x`", "look: nothing\n"
    ),
    Finding("stale-suppression", Level.WARNING, Place("/abs/é.yaml", 1, 1), 'quotes " and {braces}'),
    Finding("not-utf-8", Level.ERROR, Place("trees/b.yaml", 9, 80), "a rule that has no page"),
    Finding("cut-at-comma", Level.REMARK, Place("trees/b.yaml", 9, 80), "a remark"),
)


def log(findings: tuple[Finding, ...] = FINDINGS) -> dict[str, Any]:
    document: dict[str, Any] = json.loads(render(Checked(findings, {}, rules(), "0.1.0")))
    return document


@pytest.mark.parametrize("findings", [FINDINGS, ()], ids=["findings", "none"])
def test_a_log_is_valid(findings: tuple[Finding, ...]) -> None:
    Log.model_validate(log(findings))


@pytest.mark.parametrize(
    "spoil",
    [
        lambda one: one.update(version="2.0.0"),
        lambda one: one["runs"][0]["results"][0].update(severity="error"),
        lambda one: one["runs"][0]["results"][0].update(level="remark"),
        lambda one: one["runs"][0]["results"][0].pop("message"),
        lambda one: one["runs"][0]["tool"]["driver"].pop("name"),
        lambda one: _region(one).update(startLine=0),
    ],
    ids=["version", "unknown key", "level", "no message", "no tool", "line 0"],
)
def test_what_the_schema_refuses_is_refused_here(spoil: Callable[[dict[str, Any]], Any]) -> None:
    """Else the test above would prove nothing."""
    wrong = copy.deepcopy(log())
    spoil(wrong)
    with pytest.raises(ValidationError):
        Log.model_validate(wrong)


def _region(one: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = one["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"]
    return found


def test_rules_are_named_by_index() -> None:
    """3.27.6: `ruleIndex` is the place of the rule in the driver's list; left out where there is none."""
    (run,) = log()["runs"]
    for result in run["results"]:
        index = result.get("ruleIndex")
        assert index is None or run["tool"]["driver"]["rules"][index]["id"] == result["ruleId"]
    assert [result["ruleId"] for result in run["results"] if "ruleIndex" not in result] == ["not-utf-8"]


def test_rules_have_ids_of_their_own_and_whole_sentences() -> None:
    """3.49.3: ids are unique here; 3.49.9: a short description is one sentence."""
    (run,) = log()["runs"]
    described = run["tool"]["driver"]["rules"]
    assert len({rule["id"] for rule in described}) == len(described) == len(rules())
    assert all(rule["shortDescription"]["text"].endswith(".") for rule in described)


def test_files_are_named_by_uris() -> None:
    """3.4.3: a valid URI reference, blanks and letters beyond ASCII percent-encoded, absolute ones with a scheme."""
    uris = [
        result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] for result in log()["runs"][0]["results"]
    ]
    assert uris[:2] == ["trees/a%20tree.yaml", "file:///abs/%C3%A9.yaml"]


def test_columns_count_characters() -> None:
    """3.14.17: without `columnKind` a viewer may count UTF-16 units."""
    assert log()["runs"][0]["columnKind"] == "unicodeCodePoints"


def test_braces_of_a_message_are_written_twice() -> None:
    """3.11.5: single ones are placeholders for `arguments`, which this log never has."""
    message = log()["runs"][0]["results"][1]["message"]
    assert message == {"text": 'quotes " and {{braces}}'}


def test_the_command_writes_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name, text in BASE.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text.replace("healthy: no\n", "healthy: off\n"), "utf-8")
    assert main(["check", "--no-cache", "--format", "sarif", str(tmp_path)]) == 1
    out = capsys.readouterr().out
    Log.model_validate(json.loads(out))
    assert [one["ruleId"] for one in json.loads(out)["runs"][0]["results"]].count("unknown-outcome") == 1
