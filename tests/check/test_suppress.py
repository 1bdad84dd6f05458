"""Comments that allow a finding: what they reach, what they may not, and what is told of those that are amiss."""

from __future__ import annotations

import pytest

from diagtree.check.example import BASE
from diagtree.check.rule import rules
from diagtree.check.run import check_library, usual_rules
from diagtree.check.suppress import suppressions
from diagtree.knowledge.library import read_library
from diagtree.knowledge.yaml_comments import comments

CUT = "    mind: [Release the catch, pull the plug.]"
TEST = """\
tests:
  timer-set:
    ask: Is a charging timer set?
    place: reception
    minutes: 1
    outcomes: [no, yes]
    healthy: no
{above}{line}
    source: estimate, common practice
"""
ALLOW = "# check: allow cut-at-comma because the two are one movement"


def told(text: str, file: str = "catalogue/more.yaml") -> list[tuple[str, int]]:
    """Return rule and line of every finding in the base with one more file; that nobody uses its test is no matter."""
    found = check_library(read_library({**BASE, file: text}), usual_rules())
    return [(one.rule, one.place.line) for one in found if one.rule != "unused-test"]


def test_without_a_comment_the_finding_stands() -> None:
    assert told(TEST.format(above="", line=CUT)) == [("cut-at-comma", 8)]


@pytest.mark.parametrize(
    ("above", "line"),
    [
        ("", f"{CUT}  {ALLOW}"),
        (f"    {ALLOW}\n", CUT),
        (f"{ALLOW}\n", CUT),
        (f"    {ALLOW}\n    # another remark\n", CUT),
        (f"    # another remark\n    {ALLOW}\n", CUT),
        ("", f"{CUT}  #check:  allow   cut-at-comma   because   the two are one movement"),
    ],
    ids=["on the line", "above", "above, elsewhere", "with a remark below", "with a remark above", "other blanks"],
)
def test_a_comment_on_the_line_or_right_above_allows(above: str, line: str) -> None:
    assert told(TEST.format(above=above, line=line)) == []


def test_two_comments_above_speak_of_the_same_line() -> None:
    stale = "    # check: allow bad-number because of nothing\n"
    assert told(TEST.format(above=f"{stale}    {ALLOW}\n", line=CUT)) == [("stale-suppression", 8)]


def test_a_comment_two_lines_above_reaches_nothing() -> None:
    found = told(TEST.format(above=f"    {ALLOW}\n\n", line=CUT))
    assert found == [("stale-suppression", 8), ("cut-at-comma", 10)]


def test_a_comment_behind_another_line_does_not_reach_the_next() -> None:
    text = TEST.format(above="", line=CUT).replace("    healthy: no", f"    healthy: no  {ALLOW}")
    assert told(text) == [("stale-suppression", 7), ("cut-at-comma", 8)]


def test_the_reason_is_asked_for() -> None:
    found = told(TEST.format(above="", line=f"{CUT}  # check: allow cut-at-comma"))
    assert sorted(found) == [("cut-at-comma", 8), ("suppression-without-reason", 8)]
    found = told(TEST.format(above="", line=f"{CUT}  # check: allow cut-at-comma because"))
    assert ("suppression-without-reason", 8) in found


def test_a_rule_that_does_not_exist_is_told_with_the_nearest() -> None:
    text = TEST.format(above="", line=f"{CUT}  # check: allow cut-at-coma because of haste")
    found = check_library(read_library({**BASE, "catalogue/more.yaml": text}))
    (wrong,) = [one for one in found if one.rule == "suppression-of-unknown-rule"]
    assert "did you mean `cut-at-comma`?" in wrong.message
    assert any(one.rule == "cut-at-comma" for one in found)


def test_an_error_of_safety_stays() -> None:
    catalogue = BASE["catalogue/catalogue.yaml"]
    live = catalogue.replace(
        "needs: {power: dead, open: [inlet-connector]}\n    qualification",
        "needs: {open: [inlet-connector]}  # check: allow power-not-written because it is quick\n    qualification",
    )
    assert live != catalogue
    found = told(live, "catalogue/catalogue.yaml")
    assert {"power-not-written", "suppression-refused"} <= {rule for rule, _ in found}


def test_an_error_of_the_reader_stays() -> None:
    text = TEST.format(above="", line="    mind: []").replace("healthy: no", "healthy: off  # check: allow X because Y")
    text = text.replace("X", "unknown-outcome")
    assert sorted(told(text)) == [("suppression-refused", 7), ("unknown-outcome", 7)]


def test_an_error_of_the_graph_may_be_allowed() -> None:
    tree = BASE["tree.yaml"] + (
        "  spare:  # check: allow unreached-step because it is being written\n"
        "    test: other-point\n"
        "    then: {yes: {conclude: point-fault}, no: {refer: the maker's helpline}}\n"
    )
    assert ("unreached-step", 17) not in told(tree, "tree.yaml")
    assert ("unreached-step", 17) in told(tree.replace("# check", "# chek"), "tree.yaml")


def test_a_rule_that_did_not_run_is_not_called_stale() -> None:
    ours = next(rule for rule in rules() if rule.find is not None)
    text = TEST.format(above="", line=f"    mind: []  # check: allow {ours.id} because of a reason")
    library = read_library({**BASE, "catalogue/more.yaml": text})
    assert "stale-suppression" not in {one.rule for one in check_library(library, [])}
    assert "stale-suppression" in {one.rule for one in check_library(library, [ours])}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("a: b # c", [(1, 6, "# c", False)]),
        ("# c", [(1, 1, "# c", True)]),
        ("a: 'b # c'", []),
        ('a: "b # c" # d', [(1, 12, "# d", False)]),
        ("a: b#c", []),
        ("a: | # c\n  b # d\ne: f # g", [(1, 6, "# c", False), (3, 6, "# g", False)]),
        ("a: 'x\n  # y\n  z' # w", [(3, 6, "# w", False)]),
        ("a: [b, # c\n  d] # e", [(1, 8, "# c", False), (2, 6, "# e", False)]),
        ("a: [ # c", [(1, 6, "# c", False)]),
        ("\ufeff# c\na: b", [(1, 1, "# c", True)]),
        ("a: 'b # c", []),
    ],
)
def test_comments_are_told_from_texts(text: str, found: list[tuple[int, int, str, bool]]) -> None:
    assert [tuple(one) for one in comments(text)] == found


def test_what_is_quoted_allows_nothing() -> None:
    assert list(suppressions(f"ask: '{ALLOW}'\n", "a.yaml")) == []
    assert len(list(suppressions(f"ask: x {ALLOW}\n", "a.yaml"))) == 1


@pytest.mark.parametrize(
    "comment",
    [
        "# check: ignore cut-at-comma because the two are one movement",
        "# Check: allow cut-at-comma because the two are one movement",
        "# check: allow cut-at-comma: the two are one movement",
        "# check: allow cut-at-comma, empty-text because the two are one movement",
    ],
)
def test_another_form_is_told_with_the_right_one(comment: str) -> None:
    text = TEST.format(above="", line=f"{CUT}  {comment}")
    found = check_library(read_library({**BASE, "catalogue/more.yaml": text}))
    (wrong,) = [one for one in found if one.rule == "suppression-not-understood"]
    assert wrong.place.line == 8
    assert "`# check: allow cut-at-comma because REASON`" in wrong.message
    assert any(one.rule == "cut-at-comma" for one in found)


def test_a_remark_about_checking_is_no_business_of_ours() -> None:
    assert told(TEST.format(above="", line="    mind: []  # check: is this the right loop?")) == []
