"""Witnesses of planted mistakes: played through the real driver, they show what the rule says."""

from __future__ import annotations

import pytest

from diagtree.check.example import BASE
from diagtree.check.rule import Rule, examples, rules
from diagtree.check.run import check_library
from diagtree.knowledge.library import read_library
from tests.check.replay import Replay, replay

WITNESSED = [rule for rule in rules() if rule.family in ("graph", "meaning") and rule.find is not None]
WITHOUT = {
    "unreached-step", "unreached-conclusion",  # no answers lead there
    "outcome-impossible",  # no reading gives it
    "share-zero", "shares-not-100", "something-else-missing",  # numbers of the tree, whatever is answered
    "attended-above-minutes",  # a number of one job
    "referral-missing", "comeback-missing", "comeback-below-referral",  # costs of the house
}  # fmt: skip


def played(rule_id: str) -> Replay:
    rule = next(rule for rule in rules() if rule.id == rule_id)
    library = read_library({**BASE, **examples(rule).fires})
    finding = next(one for one in check_library(library, [rule]) if one.rule == rule_id)
    assert finding.witness is not None
    return replay(library, finding.place.file.removesuffix(".yaml") if "/" not in finding.place.file else "tree",
                  finding.witness)


@pytest.mark.parametrize("rule", WITNESSED, ids=lambda rule: rule.id)
def test_every_rule_about_graph_and_meaning_has_a_witness_where_there_can_be_one(rule: Rule) -> None:
    library = read_library({**BASE, **examples(rule).fires})
    found = [one for one in check_library(library, [rule]) if one.rule == rule.id]
    assert found
    assert all((one.witness is None) == (rule.id in WITHOUT) for one in found)


def test_a_loop_comes_back_to_what_is_answered() -> None:
    assert "leads round in a loop" in played("loop").stopped


def test_a_dead_end_is_walked_into() -> None:
    found = played("dead-end")
    assert found.places["other-point"] == "other-point"
    assert found.ending is None
    assert "leads round in a loop" in found.stopped


def test_a_repeated_test_is_not_asked_again() -> None:
    found = played("test-repeated")
    assert found.places["other-point"] == "other-point"  # the second step, `point-again`, never asks
    assert str(found.ending) == "Refer(to=\"the maker's helpline\")"


def test_limits_that_cross_cannot_be_judged() -> None:
    assert "the limits cross" in played("limits-out-of-order").stopped


@pytest.mark.parametrize(
    "rule_id", ["branch-never-taken", "conclusion-excluded", "cause-never-concluded", "test-without-effect",
                "test-parts-nothing", "hand-over-ring"],
)  # fmt: skip
def test_other_witnesses_end_like_any_walk(rule_id: str) -> None:
    found = played(rule_id)
    assert (found.stopped, found.unused) == ("", ())
    assert found.ending is not None


def test_a_step_without_a_way_on_is_reached_with_its_access_open() -> None:
    ended = "diagtree: 1\ntree: tree\ncauses: {sensor-open: 60, something-else: 40}\nstart: sensor-resistance\n"
    steps = "steps:\n  sensor-resistance: {then: {open: other-point, normal: {refer: x}}}\n  other-point: {then: {}}\n"
    library = read_library({**BASE, "tree.yaml": ended + steps})
    (finding,) = (one for one in check_library(library) if one.rule == "dead-end")
    assert finding.place.line == 7
    assert finding.witness is not None
    assert "absence: [0, 0, 0]" in finding.witness
    assert "sensor-resistance: {resistance: 1000000}" in finding.witness
