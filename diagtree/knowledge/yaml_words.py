"""The YAML parser's complaints in the words of somebody who writes trees: what is wrong, and what to do."""

from __future__ import annotations

import yaml

TYPOGRAPHIC = "“”„‘’‚«»"
"""Quotation marks that word processors put in."""

_NO_COLON = "a colon is missing: each line of a mapping is `name: value`, with a space after the colon"

# (part of the parser's context or problem, show where it opened?, what to say)
_ADVICE: tuple[tuple[str, bool, str], ...] = (
    ("found a tab character", False, "a tab; YAML takes spaces only: replace it by spaces"),
    ("found character '\\t'", False, "a tab; YAML takes spaces only: replace it by spaces"),
    ("while scanning a quoted scalar", True, "the quotation mark opened here is never closed, or is closed too early"),
    (
        "mapping values are not allowed",
        False,
        "a colon where none can stand: put a text that holds `: ` in quotes, or mend the indentation of this line",
    ),
    (
        "could not find expected ':'",
        True,
        _NO_COLON,
    ),
    ("did not find expected node content", False, "a value is missing here, or the file breaks off"),
    ("while parsing a flow mapping", True, "the `{` opened here is not closed with `}`, or a comma is missing in it"),
    ("while parsing a flow sequence", True, "the `[` opened here is not closed with `]`, or a comma is missing in it"),
    ("found undefined alias", False, "`*name` is an alias, not allowed here: put the text in quotes"),
    ("while scanning an alias", False, "`*` begins an alias, not allowed here: put the text in quotes"),
    ("while scanning an anchor", False, "`&` begins an anchor, not allowed here: put the text in quotes"),
    ("while scanning a directive", False, "`%` cannot begin a text: put it in quotes"),
    ("cannot start any token", False, "this character cannot begin a text: put the text in quotes"),
    (
        "while parsing a block mapping",
        False,
        "this line is indented otherwise than its neighbours, or misses its `name: `: line it up with those above",
    ),
    ("while parsing a block collection", False, "this line does not fit the list: begin it with `- ` and line it up"),
    (
        "block sequence entries are not allowed",
        False,
        "a list entry `- ` cannot stand here: put it on a line of its own",
    ),
    ("block mapping", False, "this line is indented otherwise than its neighbours: line it up with the entries above"),
    ("while scanning a block scalar", False, "the text block after `|` or `>` is indented wrongly"),
    ("expected a single document", False, "a second document (`---`) begins here: one file holds one document"),
    ("but found another document", False, "a second document (`---`) begins here: one file holds one document"),
    ("could not determine a constructor", False, "a tag (`!name`) is not allowed: leave it out"),
    ("while parsing a tag", False, "`!` begins a tag, not allowed here: put the text in quotes"),
    ("while scanning a tag", False, "`!` begins a tag, not allowed here: put the text in quotes"),
    ("while scanning a simple key", False, "a colon is missing after the name on this line"),
    (
        "did not find expected <document start>",
        False,
        "the file's layout breaks here: this line is not indented like the first line of the file",
    ),
    ("unknown escape character", False, "`\\` in double quotes begins an escape: use single quotes, or write `\\\\`"),
    ("maximum nesting depth", False, "nested far too deep to be a tree"),
    ("duplicate anchor", False, "anchors (`&name`) are not allowed: write the text out"),
)


def advice_for(error: yaml.MarkedYAMLError, text: str) -> tuple[yaml.Mark | None, str]:
    """Return where the mistake was made (None where the parser does not say) and what to do about it."""
    said = f"{error.context or ''} {error.problem or ''}"
    mark = error.problem_mark or error.context_mark
    if mark is not None and _character_at(mark, text) == "\t":
        return mark, "a tab; YAML takes spaces only: replace it by spaces"
    if mark is not None and "mapping values are not allowed" in said:
        above = _without_colon(mark.line, text.splitlines())
        if above is not None:
            return yaml.Mark(mark.name, 0, above, 0, None, 0), _NO_COLON
    for part, where_it_opened, advice in _ADVICE:
        if part in said:
            opened = error.context_mark if where_it_opened and error.context_mark else mark
            return opened, _with_smart_quotes(advice, opened, text)
    return mark, f"cannot be read as YAML: {said.strip()}"


def _without_colon(line: int, rows: list[str]) -> int | None:
    """Return the line above `line` (from 0) where that begins a mapping of the same indentation without a colon.

    The parser takes such a line for the first line of a text, and complains of the colon in the next one.
    """
    written = [number for number in range(min(line, len(rows))) if rows[number].strip(" ")[:1] not in ("", "#")]
    if not written or line >= len(rows):
        return None
    above = rows[written[-1]]
    content = above.lstrip(" -")
    same = len(above) - len(content) == len(rows[line]) - len(rows[line].lstrip(" -"))
    begins = len(written) == 1 or rows[written[-2]].rstrip().endswith(":") or above.lstrip().startswith("- ")
    return written[-1] if same and begins and ":" not in content else None


def _character_at(mark: yaml.Mark, text: str) -> str:
    lines = text.splitlines()
    row = lines[mark.line] if mark.line < len(lines) else ""
    return row[mark.column : mark.column + 1]


def _with_smart_quotes(advice: str, mark: yaml.Mark | None, text: str) -> str:
    lines = text.splitlines()
    if mark is None or mark.line >= len(lines):
        return advice
    if any(char in lines[mark.line] for char in TYPOGRAPHIC):
        return advice + "; the line has typographic quotation marks: type plain \" or '"
    return advice
