"""YAML text to nodes that know their place. Nothing is loaded: every scalar stays the text that was typed.

So `no`, `on`, `off`, `12:30` and `1e6` stay text, a duplicate key is seen, and no file can run code. Anchors,
aliases, merge keys and tags are refused: a tree must read the same to a person and to the machine.
"""

from __future__ import annotations

from typing import Any, NamedTuple, TypeAlias

import yaml

from diagtree.knowledge.place import Finding, Level, Place
from diagtree.knowledge.yaml_words import advice_for

_MOST_DEEP = 60  # nested levels; a tree needs seven
_PLAIN_TAGS = frozenset({None, "!", *(f"tag:yaml.org,2002:{kind}" for kind in ("str", "seq", "map"))})
_SCALAR = yaml.ScalarEvent
_new = tuple.__new__  # a named tuple without its own constructor's detour: half of what building nodes would take
_LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)  # only its events are used: it resolves and constructs nothing


# Named tuples, not dataclasses: a folder has ten thousands of these, and a tuple is made in half the time.
class Scalar(NamedTuple):
    """A text. `plain` is False where it was quoted or a block: then it is never read as a number."""

    at: Place
    text: str
    plain: bool


class Sequence(NamedTuple):
    """A list."""

    at: Place
    items: tuple[Node, ...]


class Entry(NamedTuple):
    """A key's place and its value."""

    at: Place
    value: Node


class Mapping(NamedTuple):
    """Keys in the author's order."""

    at: Place
    entries: dict[str, Entry]


Node: TypeAlias = Scalar | Sequence | Mapping
Event: TypeAlias = Any  # one of PyYAML's events; its type hints leave their attributes out


def compose(text: str, file: str) -> tuple[Node | None, tuple[Finding, ...]]:
    """Return the file's one node (None for an empty or unreadable file) and what is wrong with the text.

    file : name used in places. Never raises for any text. Built from the parser's events in one go: composing PyYAML's
    own nodes first would double the time.
    """
    builder = _Builder(file, text.removeprefix("\ufeff"))
    try:
        node = builder.document()
    except yaml.MarkedYAMLError as error:
        return None, (_syntax(error, text, file),)
    except yaml.reader.ReaderError as error:
        return None, (_unreadable_character(error, text, file),)
    return node, tuple(builder.findings)


class _Builder:
    def __init__(self, file: str, text: str) -> None:
        self.file = file
        self.findings: list[Finding] = []
        self._text = text
        # Lines with `#`, by number: the only ones on which a remark can cut a text short.
        self._hashes = (
            {number: row for number, row in enumerate(text.splitlines()) if "#" in row} if "#" in text else {}
        )

    def document(self) -> Node | None:
        """Return the one document's node. Raises yaml.YAMLError for a text that is no YAML, or holds two."""
        loader = _LOADER(self._text)
        self._next = loader.get_event
        try:
            self._next()  # the stream begins
            if isinstance(self._next(), yaml.StreamEndEvent):
                return None
            node = self._node(self._next(), 0)
            self._next()  # the document ends
            beyond = self._next()
            if not isinstance(beyond, yaml.StreamEndEvent):
                raise yaml.MarkedYAMLError(problem="but found another document", problem_mark=beyond.start_mark)
            return node
        finally:
            loader.dispose()

    def _node(self, event: Event, depth: int) -> Node:
        mark = event.start_mark
        at = _new(Place, (self.file, mark.line + 1, mark.column + 1))
        if type(event) is _SCALAR and event.tag is None and event.anchor is None:
            plain = not event.style  # '' from libyaml, None from the Python parser
            if plain and self._hashes:
                end: Any = event.end_mark
                if end.line in self._hashes:
                    self._cut_by_comment(end)
            return _new(Scalar, (at, event.value, plain))
        return self._other(event, at, depth)

    def _other(self, event: Event, at: Place, depth: int) -> Node:
        kind = type(event)
        if kind is yaml.AliasEvent:
            self._say("alias", at, f"`*{event.anchor}` is an alias, not allowed here: write the text out, or quote it")
            return Scalar(at, "", False)
        if event.anchor or event.tag not in _PLAIN_TAGS:
            self._machinery(event, at)
        if kind is _SCALAR:
            return Scalar(at, event.value, not event.style)
        if depth > _MOST_DEEP:
            self._say("nested-too-deep", at, f"nested more than {_MOST_DEEP} levels deep; a tree needs seven")
            self._skip()
            return Scalar(at, "", False)
        if kind is yaml.MappingStartEvent:
            return Mapping(at, self._entries(depth + 1))
        items = []
        while type(item := self._next()) is not yaml.SequenceEndEvent:
            items.append(self._node(item, depth + 1))
        return Sequence(at, tuple(items))

    def _entries(self, depth: int) -> dict[str, Entry]:
        found: dict[str, Entry] = {}
        following, node, ended = self._next, self._node, yaml.MappingEndEvent
        value: Node | None = None
        while type(event := following()) is not ended:
            before = value
            key = node(event, depth)
            value = node(following(), depth)
            if type(key) is Scalar and key[1] not in found and key[1] != "<<" and value[1]:
                found[key[1]] = _new(Entry, (key[0], value))
            elif not self._after_comma(before, key, value):
                self._odd_entry(key, value, found)
        return found

    def _odd_entry(self, key: Node, value: Node, found: dict[str, Entry]) -> None:
        """Take an entry with an empty value or key `<<`; tell of a key that is none, or that stands there twice."""
        if not isinstance(key, Scalar):
            self._say("key-not-text", key.at, "a key must be one word or text, not a list or mapping")
        elif key.text in found:
            first = found[key.text].at.line
            self._say(
                "duplicate-key", key.at, f"`{key.text}` stands here a second time; first at line {first}: keep one"
            )
        elif key.plain and key.text == "<<":
            self._say("merge-key", key.at, "merge keys (`<<`) are not allowed; write the entries out")
        else:
            found[key.text] = Entry(key.at, value)

    def _after_comma(self, before: Node | None, key: Node, value: Node) -> bool:
        """Tell of a decimal comma between braces: the digits behind it look like a key without a value."""
        if not (isinstance(before, Scalar) and isinstance(key, Scalar) and isinstance(value, Scalar)):
            return False
        comma = before.at.column + len(before.text)
        beside = key.at == (self.file, before.at.line, comma + 1) and before.plain and before.text[-1:].isdigit()
        if not beside or value.text or not key.text.isdigit():
            return False
        message = f"a comma parts entries here: write decimals with a point, `{before.text}.{key.text}`"
        self._say("decimal-comma", Place(self.file, before.at.line, comma), message)
        return True

    def _skip(self) -> None:
        """Pass over the rest of a collection whose start was taken."""
        open_ends = 1
        while open_ends:
            event = self._next()
            open_ends += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)

    def _machinery(self, event: Event, at: Place) -> None:
        if event.anchor:
            message = f"`&{event.anchor}` is an anchor, not allowed here; leave it out, or put the text in quotes"
            self._say("anchor", at, message)
        if event.tag not in _PLAIN_TAGS:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self._say("tag", at, f"the tag `{tag}` is not allowed in knowledge files; leave it out")

    def _cut_by_comment(self, mark: Any) -> None:
        rest = self._hashes[mark.line][mark.column :]
        stripped = rest.lstrip()
        if len(stripped) > 1 and stripped[0] == "#" and rest != stripped and stripped[1] not in " #!:-=":
            self._say(
                "cut-by-comment",
                Place(self.file, mark.line + 1, mark.column + 1),
                f"the text ends before `{stripped[:20]}`, which YAML takes for a remark; "
                "put the text in quotes, or a space after `#`",
                Level.WARNING,
            )

    def _say(self, rule: str, at: Place, message: str, level: Level = Level.ERROR) -> None:
        self.findings.append(Finding(rule, level, at, message))


def _syntax(error: yaml.MarkedYAMLError, text: str, file: str) -> Finding:
    """Return the parser's complaint in an author's words, at the place where the mistake was made."""
    mark, message = advice_for(error, text)
    if mark is None:
        at = Place(file)
    else:  # a file that breaks off ends, for the parser, on the line after its last
        rows = text.splitlines() or [""]
        line = min(mark.line, len(rows) - 1)
        at = Place(file, line + 1, (mark.column if line == mark.line else len(rows[line])) + 1)
    return Finding("unreadable-yaml", Level.ERROR, at, message)


def _unreadable_character(error: yaml.reader.ReaderError, text: str, file: str) -> Finding:
    found = next(
        (
            (line, column, char)
            for line, row in enumerate(text.split("\n"), start=1)
            for column, char in enumerate(row, start=1)
            if ord(char) == error.character or (ord(char) < 32 and char not in "\t\r")
        ),
        (1, 1, ""),
    )
    line, column, char = found
    code = f"U+{ord(char):04X}" if char else str(error.character)
    return Finding(
        "unreadable-character",
        Level.ERROR,
        Place(file, line, column),
        f"the character {code} cannot stand in a text file; delete it (was it pasted from another program?)",
    )
