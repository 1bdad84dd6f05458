"""The text format: the ten mistakes that a person makes in a text editor, each told at its place, with what to do."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from diagtree.check.example import BASE
from diagtree.check.run import check_library, usual_rules
from diagtree.knowledge.library import read_library
from diagtree.knowledge.place import Finding, Level, Place
from diagtree.report.findings import Checked
from diagtree.report.findings.text import lines, render, summary

CATALOGUE, TREE = "catalogue/catalogue.yaml", "tree.yaml"


@dataclass(frozen=True)
class Mistake:
    """What was done to the base, and what must be said: at the line and under the mark; all words must be there."""

    file: str
    before: str
    after: str
    line: int
    marked: str
    words: tuple[str, ...]


MISTAKES = {
    "a tab": Mistake(CATALOGUE, "    minutes: 1\n", "\tminutes: 1\n", 5, "    ", ("tab", "replace it by spaces")),
    "a missing colon": Mistake(
        CATALOGUE, "place: reception", "place reception", 4, "place", ("colon is missing", "`name: value`")
    ),
    "half a word": Mistake(
        TREE, "{conclude: sensor-open}", "{conclude: sensor-op}", 16, "sensor-op", ("did you mean `sensor-open`?",)
    ),
    "a step copied": Mistake(
        TREE, "  sensor-resistance:\n    then:", "  other-point:\n    then:", 13, "other-point",
        ("`other-point` stands here a second time", "line 9", "keep one"),
    ),
    "a unit forgotten": Mistake(
        CATALOGUE, "{resistance: ohm}", "{resistance: }", 17, "}", ("`resistance` has no unit", "`ohm`")
    ),
    "an accent": Mistake(
        CATALOGUE, "sensor-open:\n    name", "se\u0301nsor-open:\n    name", 28, "se\u0301nsor-open",
        ("accent", "type the letter anew"),
    ),
    "a comma for a point": Mistake(TREE, "40,", "39,5,", 6, ",", ("decimals with a point", "`39.5`")),
    "a comma in a block": Mistake(CATALOGUE, "minutes: 60", "minutes: 60,5", 34, "60,5", ("a comma", "write `60.5`")),
    "smart quotes": Mistake(CATALOGUE, "[yes, no]", "[“yes”, “no”]", 6, "“", ("typographic", "take them out")),
    "a colon in smart quotes": Mistake(
        CATALOGUE, "ask: Does the car", "ask: “Does the car: ", 3, ":", ("quotes", "typographic")
    ),
    "a wrong indent": Mistake(
        CATALOGUE, "    minutes: 1\n", "   minutes: 1\n", 5, "minutes", ("indented", "line it up")
    ),
    "CR LF": Mistake(CATALOGUE, "minutes: 1\n", "minutes: 1\r\n", 5, " ", ("CR LF", "set the editor to LF")),
}  # fmt: skip


def shown(texts: dict[str, str]) -> str:
    library = read_library(texts, "trees/")
    found = check_library(library, usual_rules())
    return render(Checked(found, {f"trees/{name}": text for name, text in texts.items()}))


@pytest.mark.parametrize("mistake", MISTAKES.values(), ids=MISTAKES)
def test_each_mistake_is_told_with_its_line_and_a_mark_below(mistake: Mistake) -> None:
    text = BASE[mistake.file]
    assert text.count(mistake.before) >= 1
    spoilt = text.replace(mistake.before, mistake.after, 1)
    blocks = shown({**BASE, mistake.file: spoilt}).split("\n\n")
    head = f"trees/{mistake.file}:{mistake.line}:"
    said = [block for block in blocks if block.startswith(head) and all(word in block for word in mistake.words)]
    assert said, "\n\n".join(blocks)
    _, row, below = said[0].split("\n")[:3]
    number, _, content = row.partition(" | ")
    assert int(number) == mistake.line
    assert content == spoilt.split("\n")[mistake.line - 1].rstrip("\r").replace("\t", "    ")
    assert under(row, below) == mistake.marked


def under(row: str, below: str) -> str:
    """Return what stands above the mark, column by column (no wide letters here, marks upon letters take no room)."""
    columns = [letter for letter in row if not 0x300 <= ord(letter) <= 0x36F]
    first, last = below.index("^"), below.rindex("^")
    cells = "".join(columns)[first : last + 1]
    return "e\u0301".join(cells.split("e", 1)) if "\u0301" in row and "e" in cells else cells


def test_the_base_is_shown_as_nothing() -> None:
    assert shown(dict(BASE)) == ""


def mark(text: str, column: int, width: int | None = None) -> tuple[str, str]:
    """Return the excerpt and the mark of a finding at `column` of a text's first line."""
    finding = Finding("wrong-type", Level.ERROR, Place("a.yaml", 1, column), "wrong")
    shown_lines = ["".join(span.text for span in line) for line in lines(Checked((finding,), {"a.yaml": text}), width)]
    return shown_lines[1].partition("| ")[2], shown_lines[2].partition("| ")[2]


@pytest.mark.parametrize(
    ("text", "column", "excerpt", "marked"),
    [
        ("ask: word", 6, "ask: word", "     ^^^^"),
        ("\task: word", 7, "    ask: word", "         ^^^^"),
        ("漢字: word", 5, "漢字: word", "      ^^^^"),  # two columns each
        ("漢字: word", 1, "漢字: word", "^^^^"),
        ("cafe\u0301: word", 8, "cafe\u0301: word", "      ^^^^"),  # a mark upon a letter takes no room
        ("🔌: word", 4, "🔌: word", "    ^^^^"),
        ("a: b", 99, "a: b", " " * 4 + "^"),  # behind the end of the line
        ("", 1, "", ""),
        ("\x1b[31mred", 1, "?[31mred", "^"),
        ("\ufefftree: word", 7, "tree: word", "      ^^^^"),
    ],
)
def test_the_mark_stands_under_the_word(text: str, column: int, excerpt: str, marked: str) -> None:
    if not text:
        finding = Finding("empty-file", Level.ERROR, Place("a.yaml"), "empty")
        assert len(render(Checked((finding,), {"a.yaml": ""})).splitlines()) == 2
        return
    assert mark(text, column) == (excerpt, marked)


@pytest.mark.parametrize("column", [1, 40, 150, 290, 300])
def test_a_long_line_is_shown_about_the_mark(column: int) -> None:
    text = "".join(f"{number:03d}-" for number in range(75))
    excerpt, marked = mark(text, column, 60)
    assert len(excerpt) <= 60 - 8
    assert len(marked) <= 60 - 8
    assert excerpt[len(marked) - marked.count("^")] == text[column - 1]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\x85", "\u2028"])
def test_lines_are_those_of_yaml(end: str) -> None:
    finding = Finding("wrong-type", Level.ERROR, Place("a.yaml", 2, 1), "wrong")
    assert "    2 | second: 2" in render(Checked((finding,), {"a.yaml": f"first: 1{end}second: 2{end}"}))


def test_a_finding_without_a_text_is_one_line() -> None:
    finding = Finding("not-utf-8", Level.ERROR, Place("a.yaml", 7, 1), "wrong")
    assert render(Checked((finding,), {})) == "a.yaml:7:1 error: wrong [not-utf-8]\n\n"


def test_a_witness_is_shown_below() -> None:
    finding = Finding("loop", Level.ERROR, Place("a.yaml"), "wrong", "answers:\n  a: yes\n")
    text = render(Checked((finding,), {"a.yaml": "tree: a\n"}))
    assert "        answers:\n          a: yes\n" in text


def test_on_a_screen_messages_are_wrapped() -> None:
    finding = Finding("loop", Level.WARNING, Place("a.yaml"), "a long message of many words that does not fit " * 3)
    rows = ["".join(span.text for span in line) for line in lines(Checked((finding,), {}), 50)]
    assert max(len(row) for row in rows) <= 50
    assert rows[1].startswith("    ")
    assert rows[-2].endswith("[loop]")


def test_levels_are_counted() -> None:
    levels = [Level.ERROR, Level.ERROR, Level.REMARK]
    found = tuple(Finding("x", level, Place("a.yaml"), "wrong") for level in levels)
    assert summary(Checked(found, {})) == "3 findings: 2 errors, 1 remark"
    assert summary(Checked((), {})) == "0 findings"
