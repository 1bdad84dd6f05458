"""The page of quantities: fresh, complete, and with its cautions."""

from __future__ import annotations

import re
from pathlib import Path

from diagtree.physics.data import KNOWN, TIME_OUTS, Mark
from diagtree.physics.quantity import quantities
from diagtree.physics.verdict import verdicts
from diagtree.report.quantities_page import CAUTIONS, page, quantity_section

DOCUMENT = Path(__file__).parents[2] / "docs" / "quantities.md"

MAKE = "stale: run `python -m tests.report.test_quantities_page`"


def whole() -> str:
    return page(quantities(), verdicts(), KNOWN, TIME_OUTS)


def test_the_page_is_fresh():
    """docs/quantities.md is what the code says today."""
    assert DOCUMENT.read_text(encoding="utf-8") == whole(), MAKE


def test_every_quantity_and_verdict_has_its_section_and_its_link():
    """Each once, and each linked from the list at the top."""
    text = whole()
    headings = re.findall(r"^## (.+)$", text, re.MULTILINE)
    assert headings == [one.id for one in (*quantities(), *verdicts())]
    for name in headings:
        assert f"[{name}](#{name})" in text


def test_cautions_stand_where_they_belong():
    """High voltage is headed by its caution, paper work is not."""
    for one in quantities():
        section = quantity_section(one)
        for hazard, caution in CAUTIONS.items():
            if caution:
                assert (caution in section) == (one.hazard == hazard)
        assert ("> " in section) == (one.hazard != "none")


def test_limits_keep_their_mark():
    """What is from memory says so on the page."""
    lines = whole().splitlines()
    for meaning, one in KNOWN.items():
        (line,) = [line for line in lines if line.startswith(f"| {meaning} |")]
        assert line.endswith(f"| {one.mark.value} |")
        assert one.source
    assert any(one.mark is Mark.MEMORY for one in KNOWN.values())


if __name__ == "__main__":
    DOCUMENT.write_text(whole(), encoding="utf-8")
