"""Every rule, on the two examples of its own docstring."""

from __future__ import annotations

import pytest

from diagtree.check.example import BASE
from diagtree.check.rule import Rule, examples, rules
from diagtree.check.run import check_library, usual_rules
from diagtree.check.walks.run import play_walks
from diagtree.knowledge.library import read_library
from diagtree.knowledge.place import Finding, Level


def findings(texts: dict[str, str], family: str = "") -> tuple[Finding, ...]:
    library = read_library(texts)
    if family == "walks":
        return play_walks(library, 300, seed=1).findings
    return check_library(library, usual_rules(worth=family == "worth"))


def test_the_base_has_no_finding() -> None:
    assert [str(one) for one in findings(dict(BASE))] == []


@pytest.mark.parametrize("rule", rules(), ids=lambda rule: rule.id)
def test_a_rule_fires_and_is_silent(rule: Rule) -> None:
    shown = examples(rule)
    fired = [one for one in findings({**BASE, **shown.fires}, rule.family) if one.rule == rule.id]
    assert fired, "nothing is found on its own example"
    assert all(one.level is rule.level for one in fired)
    quiet = findings({**BASE, **shown.silent}, rule.family)
    assert [str(one) for one in quiet if one.rule == rule.id] == []
    assert [str(one) for one in quiet if one.level is Level.ERROR] == [], "the silent example must have no error at all"
