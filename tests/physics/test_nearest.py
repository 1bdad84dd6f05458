"""Which known words are offered for a mistyped one."""

from __future__ import annotations

import pytest

from diagtree.errors import WrongUse
from diagtree.physics.nearest import did_you_mean
from tests.triage.owners import shipped

TREES = ("slow-ac", "slow-dc", "plug-stuck", "plug-not-recognised", "triage", "trips-supply")


@pytest.mark.parametrize(("word", "said"), [
    ("slow", "; did you mean `slow-ac` or `slow-dc`?"),  # one is as near as the other
    ("slow-acc", "; did you mean `slow-ac`?"),
    ("plug", "; did you mean `plug-not-recognised` or `plug-stuck`?"),
    ("trip", "; did you mean `triage` or `trips-supply`?"),
    ("Trigae", "; did you mean `triage`?"),
    ("", ""),
    ("xyz", ""),
])  # fmt: skip
def test_all_that_are_near_are_named(word: str, said: str) -> None:
    assert did_you_mean(word, TREES) == said


def test_a_tree_that_is_named_by_half_names_both() -> None:
    with pytest.raises(WrongUse, match="did you mean `slow-ac` or `slow-dc`"):
        shipped().tree("slow")
