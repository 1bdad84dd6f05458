"""The page of observables and parts: fresh, complete, and with its cautions."""

from __future__ import annotations

import re
from pathlib import Path

from diagtree.physics.assumed import ASSUMED
from diagtree.physics.observable import observables
from diagtree.physics.part import parts
from diagtree.report.observables_page import observable_section, page, pattern
from diagtree.report.quantities_page import CAUTIONS

DOCUMENT = Path(__file__).parents[2] / "docs" / "observables.md"

MAKE = "stale: run `python -m tests.report.test_observables_page`"


def whole() -> str:
    return page(observables(), parts(), ASSUMED)


def test_the_page_is_fresh():
    """docs/observables.md is what the code says today."""
    assert DOCUMENT.read_text(encoding="utf-8") == whole(), MAKE


def test_every_family_and_kind_of_part_has_its_section_once():
    headings = re.findall(r"^## (.+)$", whole(), re.MULTILINE)
    assert headings == [*map(pattern, observables()), *(", ".join(kind.names) for kind in parts())]
    assert len(headings) == len(set(headings))


def test_a_pattern_spells_every_name_of_its_family():
    """Each choice between braces, its `-` for none, gives a name, and no name is left out."""
    for one in observables():
        inner = pattern(one).removeprefix(f"{one.kind}(").removesuffix(")")
        groups = [group.strip("{}").split(" | ") for group in re.findall(r"\{[^}]*\}|[^,{}]+(?=,|$)", inner)]
        assert sum(len(name) > 0 for group in groups for name in group) == sum(len(group) for group in one.details)


def test_cautions_stand_where_they_belong():
    for one in observables():
        section = observable_section(one)
        assert ("> " in section) == (one.hazard != "none")
        assert CAUTIONS[one.hazard] in section


def test_every_fault_and_every_part_that_changes_something_is_named():
    text = whole()
    for kind in parts():
        for mode in kind.modes:
            assert f"| `{mode.takes()}` |" in text
    for one in observables():
        for name in one.changed_by:
            assert f"`{name}`" in observable_section(one)


def test_what_is_taken_for_granted_says_how_it_was_got():
    lines = whole().splitlines()
    for name, one in ASSUMED.items():
        (line,) = [line for line in lines if line.startswith(f"| {name} |")]
        assert line.endswith(f"| {one.mark.value} |")


if __name__ == "__main__":
    DOCUMENT.write_text(whole(), encoding="utf-8")
