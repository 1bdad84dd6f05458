"""The job card as Markdown (CommonMark). Nothing that a person typed becomes markup."""

from __future__ import annotations

from diagtree.report.job.markdown import escape, section_lines
from diagtree.report.job_card import Format
from diagtree.report.job_card_layout import closing, sections
from diagtree.report.job_card_values import JobCard


def render(card: JobCard) -> str:
    """Return the card as Markdown."""
    lines = [f"# Job card, case {escape(card.case)}"]
    for section in sections(card):
        lines += ["", *section_lines(section)]
    return "\n".join((*lines, "", escape(closing()))) + "\n"


FORMAT = Format(id="markdown", suffix=".md", render=render)
