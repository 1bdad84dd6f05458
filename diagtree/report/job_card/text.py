"""The job card for a terminal: append-only lines without borders, nothing cut."""

from __future__ import annotations

from diagtree.report.job.text import section_lines
from diagtree.report.job_card import Format
from diagtree.report.job_card_layout import closing, sections
from diagtree.report.job_card_values import JobCard
from diagtree.report.plain_text import one_line


def render(card: JobCard) -> str:
    """Return the card as text; a line that is too long for a screen is for the screen to wrap."""
    lines = [one_line(f"Job card, case {card.case}")]
    for section in sections(card):
        lines += ["", *section_lines(section)]
    return "\n".join((*lines, "", closing())) + "\n"


FORMAT = Format(id="text", suffix=".txt", render=render)
