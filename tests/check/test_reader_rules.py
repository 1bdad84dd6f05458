"""Every mistake that the reader can tell has a rule file, and no rule file promises what nobody tells."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

import diagtree
from diagtree.check.rule import rules
from diagtree.knowledge.library import read_library
from diagtree.knowledge.place import Level
from tests.check import emitted
from tests.knowledge.mutations import WAYS, Way
from tests.knowledge.test_malformed import folders, plant

PACKAGE = Path(diagtree.__file__).parent
OF_FILES = frozenset({"not-utf-8", "unreadable-file"})
"""Told before there is a text that a rule could look at; the whole folder is refused then (`knowledge/files.py`)."""

LEVELS = {f"Level.{level.name}": level for level in Level}


@cache
def told() -> frozenset[emitted.Emitted]:
    """Return what the reader, and the check around it, can tell: by the sources."""
    return emitted.read(PACKAGE / "knowledge").emitted() | _told_by_check()


def _told_by_check() -> frozenset[emitted.Emitted]:
    found = emitted.read(PACKAGE / "check", without="rules").emitted()
    return frozenset(pair for pair in found if "." not in pair[0])  # `rule.id` is a rule's own finding


def test_the_sources_are_read() -> None:
    """Of each way to write a rule's name one is found: a literal, a constant, a helper's parameter, an f-string."""
    names = {name for name, _ in told()}
    assert {"duplicate-key", "unit-mismatch", "wrong-type", "unknown-step", "unknown-access", "tag"} <= names
    assert all(level in LEVELS for _, level in told())


def test_every_mistake_that_is_told_has_a_rule_file() -> None:
    """With the same level: who filters by level or asks for an explanation finds it."""
    known = {(rule.id, rule.level) for rule in rules()}
    missing = {(name, LEVELS[level]) for name, level in told() if name not in OF_FILES} - known
    assert not missing


def test_every_rule_of_the_reader_is_told_somewhere() -> None:
    names = {name for name, _ in told()}
    assert [rule.id for rule in rules() if rule.find is None and rule.id not in names] == []


def test_no_name_is_used_for_two_things() -> None:
    """What the reader tells has no finder besides."""
    names = {name for name, _ in told()}
    assert [rule.id for rule in rules() if rule.find is not None and rule.id in names] == []


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
def test_what_is_said_of_spoilt_folders_has_a_rule_file(way: Way) -> None:
    """The same the other way round: by running it on mistakes that were planted."""
    known = {rule.id: rule.level for rule in rules()}
    for seed in range(12):
        name, planted = plant("small", way, seed)
        for finding in read_library({**folders()["small"], name: planted.text}).all_findings():
            assert known.get(finding.rule) is finding.level, finding


def test_a_rule_says_what_it_finds_and_why_in_whole_sentences() -> None:
    for rule in rules():
        for said in (rule.finds, rule.why):
            assert said.endswith("."), rule.id
            assert said[0].isupper() or said[0] == "`", rule.id
            assert len(said) <= 160, rule.id
