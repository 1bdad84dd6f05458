"""The page of quantities: fresh, complete, and with its cautions."""

from __future__ import annotations

import re
from pathlib import Path

from diagtree.physics.quantity import quantities
from diagtree.physics.verdict import verdicts
from diagtree.report.quantities_page import CAUTIONS, page, quantity_section

DOCUMENT = Path(__file__).parents[2] / "docs" / "quantities.md"

MAKE = (
    'stale: make it anew with `python -c "from diagtree.physics.quantity import quantities; from '
    "diagtree.physics.verdict import verdicts; from diagtree.report.quantities_page import page; "
    "print(page(quantities(), verdicts()), end='')\" > docs/quantities.md`"
)


def test_the_page_is_fresh():
    """docs/quantities.md is what the code says today."""
    assert DOCUMENT.read_text(encoding="utf-8") == page(quantities(), verdicts()), MAKE


def test_every_quantity_and_verdict_has_its_section_and_its_link():
    """Each once, and each linked from the list at the top."""
    text = page(quantities(), verdicts())
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
