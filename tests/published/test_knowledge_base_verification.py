"""The mistake classes of published verification of rule bases and decision tables, each on a tree of ours.

Sources
- T. A. Nguyen, W. A. Perkins, T. J. Laffey, D. Pecora: Checking a Knowledge-Based System for Consistency and
  Completeness. AI Magazine 8 (2), 1987, p. 69, doi:10.1609/aimag.v8i2.584. Its abstract names ten classes. Consistency:
  redundant rules, conflicting rules, subsumed rules, unnecessary IF conditions, circular rule chains. Completeness:
  unreferenced attribute values, illegal attribute values, dead-end IF conditions, dead-end goals, unreachable
  conclusions; from these, missing rules and gaps.
- D. Calvanese, M. Dumas, U. Laurson, F. M. Maggi, M. Montali, I. Teinemaa: Semantics and Analysis of DMN Decision
  Tables. Business Process Management 2016; Semantics, Analysis and Simplification of DMN Decision Tables. Information
  Systems, 2018. Two analyses: overlapping rules and missing rules; one simplification: rules that can be merged.

How a rule base becomes a tree: an IF condition is a test with an outcome, a rule is a path of them, its conclusion is
the ending. The examples are ours.

What cannot be written in a tree, and so has no rule but the reader's
- Conflicting rules (the same conditions, contrary conclusions): an outcome of a step has one branch, and a second one
  is a duplicate key. Two paths never hold the same answers, because they part at some step by different outcomes.
- Subsumed rules (the same conclusion, fewer conditions): of two paths neither can be part of the other, since a path
  ends at its ending. What is left of it is a condition that changes nothing: the next class.
- Overlapping rules of a decision table: outcomes are ascending limits, each band ends where the next begins; a
  number lies in one band. Limits in the wrong order are what is left of it.
- Missing rules by a gap between bands: the last outcome is open, so every number has an outcome.
"""

from __future__ import annotations

import pytest

from diagtree.check.example import BASE, CATALOGUE, TREE
from diagtree.check.run import check_library
from diagtree.knowledge.library import read_library

HEAD = """\
diagtree: 1
tree: tree
title: AC charging fails
revision: 1
causes: {point-fault: 40, sensor-open: 30, something-else: 30}
start: other-point
steps:
"""


def tree(*steps: str) -> dict[str, str]:
    return {"tree.yaml": HEAD + "".join(f"  {step}\n" for step in steps)}


POINT = "other-point: {then: {yes: {conclude: point-fault}, no: sensor-resistance}}"
SENSOR = "sensor-resistance: {then: {normal: {refer: a specialist}, open: {conclude: sensor-open}}}"
AGAIN = "again: {test: other-point, then: {yes: {conclude: point-fault}, no: {refer: a specialist}}}"

NGUYEN = {
    "redundant rules: a condition that was settled before": (
        "test-repeated",
        tree(POINT, "sensor-resistance: {then: {normal: again, open: {conclude: sensor-open}}}", AGAIN),
    ),
    "conflicting rules: two conclusions for one answer": (
        "duplicate-key",
        tree("other-point: {then: {yes: {conclude: point-fault}, yes: {conclude: sensor-open}, no: sensor-resistance}}",
             SENSOR),
    ),
    "conflicting rules: a conclusion against the conditions": (
        "conclusion-excluded",
        tree("other-point: {then: {yes: {conclude: sensor-open}, no: sensor-resistance}}",
             "sensor-resistance: {then: {normal: {conclude: point-fault}, open: {conclude: sensor-open}}}"),
    ),
    "subsumed rules: the same conclusion with a condition less": (
        "test-without-effect",
        tree("other-point: {then: {yes: sensor-resistance, no: sensor-resistance}}", SENSOR),
    ),
    "unnecessary IF conditions: both answers, one conclusion": (
        "test-without-effect",
        tree(POINT, "sensor-resistance: {then: {normal: {conclude: sensor-open}, open: {conclude: sensor-open}}}"),
    ),
    "unnecessary IF conditions: nothing is left to tell apart": (
        "test-parts-nothing",
        {"tree.yaml": HEAD.replace("point-fault: 40, sensor-open: 30, something-else: 30", "sensor-open: 100")
                          .replace("start: other-point", "start: sensor-resistance") + f"  {SENSOR}\n"},
    ),
    "circular rule chains": (
        "loop",
        tree(POINT, "sensor-resistance: {then: {normal: other-point, open: {conclude: sensor-open}}}"),
    ),
    "circular rule chains: between rule sets": (
        "hand-over-ring",
        tree(POINT, "sensor-resistance: {then: {normal: {hand-over: tree}, open: {conclude: sensor-open}}}"),
    ),
    "unreferenced attribute values: an outcome no rule uses": (
        "outcome-without-branch",
        tree(POINT, "sensor-resistance: {then: {normal: {refer: a specialist}}}"),
    ),
    "unreferenced attribute values: a value that nothing can have": (
        "branch-never-taken",
        tree("other-point: {then: {yes: sensor-resistance, no: {conclude: sensor-open}}}", SENSOR),
    ),
    "illegal attribute values": (
        "branch-without-outcome",
        tree(POINT, "sensor-resistance: {then: {normal: {refer: a specialist}, opened: {conclude: sensor-open}}}"),
    ),
    "illegal attribute values: below any reading": (
        "outcome-impossible",
        {"catalogue/catalogue.yaml": CATALOGUE.replace("normal: below 50000", "normal: below -50000")},
    ),
    "dead-end IF conditions: nobody can answer it": (
        "unknown-test",
        tree(POINT, "sensor-resistance: {test: sensor-volts, then: {normal: {refer: a specialist}}}"),
    ),
    "dead-end goals: no rule leads to a conclusion": (
        "dead-end",
        tree(POINT, "sensor-resistance: {then: {normal: again, open: again}}",
             "again: {test: sensor-resistance, then: {normal: sensor-resistance, open: sensor-resistance}}"),
    ),
    "dead-end goals: a cause that no rule concludes": (
        "cause-never-concluded",
        tree("other-point: {then: {yes: {conclude: point-fault}, no: {refer: a specialist}}}"),
    ),
    "unreachable conclusions: no chain of rules comes there": (
        "unreached-conclusion",
        tree("other-point: {then: {yes: {conclude: point-fault}, no: {refer: a specialist}}}", SENSOR),
    ),
    "unreachable conclusions: the rule itself": (
        "unreached-step",
        tree("other-point: {then: {yes: {conclude: point-fault}, no: {refer: a specialist}}}", SENSOR),
    ),
}  # fmt: skip


def sensor(outcomes: str) -> dict[str, str]:
    text = CATALOGUE.replace("{normal: below 50000, open: otherwise}", outcomes)
    steps = "sensor-resistance: {then: {low: {refer: x}, normal: {refer: y}, open: {conclude: sensor-open}}}"
    return {"catalogue/catalogue.yaml": text, **tree(POINT, steps)}


DECISION_TABLES = {
    "overlapping rules: bands in the wrong order": (
        "limits-out-of-order", sensor("{low: below 50000, normal: below 5000, open: otherwise}"),
    ),
    "overlapping rules: an empty band": (
        "limits-out-of-order", sensor("{low: below 5000, normal: below 5000, open: otherwise}"),
    ),
    "missing rules: the table ends before the numbers do": (
        "last-outcome-not-open", sensor("{low: below 5000, normal: below 50000, open: below 1000000}"),
    ),
    "missing rules: an answer without a rule": (
        "outcome-without-branch", tree(POINT, "sensor-resistance: {then: {open: {conclude: sensor-open}}}"),
    ),
    "mergeable rules: neighbours with one conclusion, and no others": (
        "test-without-effect",
        tree(POINT, "sensor-resistance: {then: {normal: {conclude: sensor-open}, open: {conclude: sensor-open}}}"),
    ),
}  # fmt: skip


def found(files: dict[str, str]) -> set[str]:
    return {one.rule for one in check_library(read_library({**BASE, **files}))}


@pytest.mark.parametrize("name", [*NGUYEN, *DECISION_TABLES])
def test_each_published_class_is_found_by_its_rule(name: str) -> None:
    rule, files = {**NGUYEN, **DECISION_TABLES}[name]
    assert rule in found(files)
    assert rule not in found({}), "the sound example shows the same"


def test_all_ten_classes_of_the_abstract_are_there() -> None:
    classes = {name.partition(":")[0] for name in NGUYEN}
    assert classes == {
        "redundant rules", "conflicting rules", "subsumed rules", "unnecessary IF conditions", "circular rule chains",
        "unreferenced attribute values", "illegal attribute values", "dead-end IF conditions", "dead-end goals",
        "unreachable conclusions",
    }  # fmt: skip


def test_two_paths_never_hold_the_same_answers() -> None:
    # Why conflicts and subsumption between paths cannot be written: any two paths part at a step both go through.
    lines = TREE.splitlines()
    assert sum(line.strip().startswith("yes:") for line in lines) == 1
    library = read_library({**BASE, "tree.yaml": TREE.replace("      yes: {", "      yes: {refer: x}\n      yes: {")})
    assert "duplicate-key" in {one.rule for one in library.all_findings()}
