"""Nothing that a person typed becomes markup, and nothing of it is lost. Second opinion: a CommonMark parser."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from diagtree.report.job import formats
from diagtree.report.job.markdown import escape
from diagtree.report.job.markdown import render as as_markdown
from diagtree.report.job.text import render as as_text
from diagtree.report.job_record import JobRecord, job_record
from diagtree.report.job_record_values import Saying
from diagtree.report.plain_text import one_line
from tests.report.troubled_job import CASE, PRINTED, story

SIGNS = "\\`*_{}[]<>()#+-.!|~&$:/@=\"'^%;, 0123456789\n\t\r\x1b\u2028\u202eabwWΩé"
NASTY = st.one_of(
    st.text(max_size=40),
    st.text(alphabet=SIGNS, max_size=40),
    st.lists(
        st.sampled_from([
            "# ", "- ", "+ ", "1. ", "12) ", "> ", "***", "```", "~~~", "---", "===", "| a | b |", "[x](http://a.b)",
            "![i](j)", "<b>", "</td>", "<!--", "&amp;", "&#35;", "https://a.b/c", "www.a.b", "\\", "\\|", "`", "[^1]",
            "[ ] ", "\n", "\n\n", "    ", "\t", ":---", "|", "$x$", "~~no~~", "_a_", "<http://a.b>", "  \n", "[a]: /b",
        ]),
        max_size=6,
    ).map("".join),
)  # fmt: skip


def reader() -> MarkdownIt:
    return MarkdownIt("commonmark").enable(["table", "strikethrough"])


def shown(markdown: str) -> str:
    """Return what a reader sees, as one string of plain text. Fails where there is any markup."""
    (inline,) = [token for token in reader().parse(markdown) if token.type == "inline"]
    assert inline.children is not None
    assert {child.type for child in inline.children} <= {"text", "text_special"}, inline.children
    return "".join(child.content for child in inline.children)


PLACES = {
    "item": ("- {}", ["bullet_list_open", "list_item_open", "paragraph_open", "inline", "paragraph_close",
                      "list_item_close", "bullet_list_close"]),
    "heading": ("### {}", ["heading_open", "inline", "heading_close"]),
    "paragraph": ("{}", ["paragraph_open", "inline", "paragraph_close"]),
}  # fmt: skip


@pytest.mark.parametrize("place", PLACES)
@settings(deadline=None, max_examples=400)
@given(text=NASTY)
def test_typed_text_is_shown_as_typed_and_is_no_markup(place, text):
    """In a list, a heading and on a line of its own the parser sees exactly one text."""
    wanted = one_line(text)
    if not wanted:
        return
    pattern, types = PLACES[place]
    markdown = pattern.format(escape(text))
    assert [token.type for token in reader().parse(markdown)] == types
    assert shown(markdown) == wanted


@settings(deadline=None, max_examples=400)
@given(texts=st.lists(NASTY, min_size=2, max_size=2))
def test_typed_text_stays_in_its_cell(texts):
    """A table with people's text in it keeps its rows and columns."""
    table = f"| a | b |\n| --- | --- |\n| {escape(texts[0])} | {escape(texts[1])} |\n"
    tokens = reader().parse(table)
    cells = [token for token in tokens if token.type == "inline"]
    assert len(cells) == 4
    for cell, text in zip(cells[2:], texts, strict=True):
        assert {child.type for child in cell.children or []} <= {"text", "text_special"}
        assert "".join(child.content for child in cell.children or []) == one_line(text)


@settings(deadline=None, max_examples=200)
@given(text=st.text())
def test_one_line_is_one_line_and_carries_no_control_characters(text):
    """Whatever is typed: no line end, no escape sequence, no mark that turns the direction round."""
    line = one_line(text)
    assert len(line.splitlines()) <= 1
    assert all(letter.isprintable() or letter in "\u200c\u200d" for letter in line)
    assert one_line(line) == line


@lru_cache
def whole() -> JobRecord:
    walk, events = story()
    return job_record(walk, events, CASE, PRINTED)


def shape(markdown: str) -> list[tuple[str, str]]:
    """Return every block and inline sign of a document, texts left out."""
    found = []
    for token in reader().parse(markdown):
        found.append((token.type, token.tag))
        found += [(child.type, child.tag) for child in token.children or [] if not child.type.startswith("text")]
    return found


@settings(deadline=None, max_examples=100)
@given(text=NASTY.filter(lambda text: one_line(text).strip()))
def test_a_whole_record_keeps_its_shape_whatever_people_typed(text):
    """Complaint, notes, reasons, who holds the key, what was fitted: the document is built as with plain words."""

    def with_words(words: str) -> JobRecord:
        record = whole()
        conclusion = replace(record.conclusion, owner=(words,), words=words)
        return replace(
            record,
            complaints=(Saying(PRINTED, words),),
            notes=(Saying(PRINTED, words, words),),
            answers=tuple(replace(one, note=words, reason=words) for one in record.answers),
            safety=tuple(replace(one, said=words) for one in record.safety),
            corrections=tuple(replace(one, said=words, parts=((words, 1.0),)) for one in record.corrections),
            conclusion=conclusion,
        )

    assert shape(as_markdown(with_words(text))) == shape(as_markdown(with_words("plain")))


def test_the_record_has_the_same_sections_in_every_format():
    """Nothing is left out of one of them."""
    record = whole()
    headings = [line[3:] for line in as_markdown(record).splitlines() if line.startswith("## ")]
    text = as_text(record).splitlines()
    assert [line for line in text if line.isupper() and not line.startswith(" ")] == [line.upper() for line in headings]


def test_formats_are_told_apart():
    """Each has its word and its suffix."""
    assert {(form.id, form.suffix) for form in formats()} == {("text", ".txt"), ("markdown", ".md")}


def test_the_tables_are_tables():
    """The parser finds the chances, each measurement of the absence, and the account."""
    tables = sum(token.type == "table_open" for token in reader().parse(as_markdown(whole())))
    assert tables == 1 + 4 + 1
