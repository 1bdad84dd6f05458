"""Every rule on mistakes that were planted: told at the right file and line, and never where there is none.

With DIAGTREE_BENCH=full in the environment 1,000 valid folders, and twice as many mistakes of each kind.
"""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, given, settings

from diagtree.check.rule import Rule, rules
from diagtree.check.run import check_library
from diagtree.knowledge.library import read_library
from diagtree.knowledge.place import Level
from tests.check.mutants import PLANTERS
from tests.check.valid_folders import Folder, folders
from tests.knowledge.mutations import WAYS, Way
from tests.knowledge.test_malformed import folders as spoilt_folders
from tests.knowledge.test_malformed import plant

VALID, EACH, SPOILT = (1000, 8, 40) if os.environ.get("DIAGTREE_BENCH") == "full" else (400, 4, 20)
QUIET = list(HealthCheck)


@settings(max_examples=VALID, deadline=None, suppress_health_check=QUIET, database=None)
@given(folders())
def test_a_valid_folder_has_no_error(folder: Folder) -> None:
    """Every rule: no false alarm."""
    found = check_library(read_library(folder.texts()))
    assert [str(one) for one in found if one.level is Level.ERROR] == []


@pytest.mark.parametrize("rule", [rule for rule in rules() if rule.id in PLANTERS], ids=lambda rule: rule.id)
def test_a_planted_mistake_is_told_at_its_line(rule: Rule) -> None:
    """By the rule that bears its name, at its level."""

    @settings(max_examples=EACH, deadline=None, suppress_health_check=QUIET, database=None)
    @given(folders())
    def holds(folder: Folder) -> None:
        planted = PLANTERS[rule.id](folder.changed())
        found = check_library(read_library(planted.texts))
        told = [(one.place.file, one.place.line, one.level) for one in found if one.rule == rule.id]
        assert (planted.file, planted.line, rule.level) in told, [str(one) for one in found]

    holds()


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
def test_no_spoilt_file_breaks_the_check(way: Way) -> None:
    """Whatever is wrong, every rule looks at what is left of the folder, and none stumbles."""
    for seed in range(SPOILT):
        name, planted = plant("small", way, seed)
        found = check_library(read_library({**spoilt_folders()["small"], name: planted.text}))
        assert any(one.level is Level.ERROR for one in found)


def test_every_planter_is_for_a_rule() -> None:
    assert set(PLANTERS) <= {rule.id for rule in rules()}


NOT_PLANTED = frozenset({"worth", "walks"})
"""Families whose mistakes show only in costs, or in many walks: test_worth.py and tests of the walks plant them."""


def test_every_rule_is_provoked() -> None:
    assert [rule.id for rule in rules() if rule.family not in NOT_PLANTED and rule.id not in PLANTERS] == []
