"""YAML text to nodes that know their place. Nothing is loaded: every scalar stays the text that was typed.

So `no`, `on`, `off`, `12:30` and `1e6` stay text, a duplicate key is seen, and no file can run code. Anchors,
aliases, merge keys and tags are refused: a tree must read the same to a person and to the machine.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import yaml

from diagtree.knowledge.place import Finding, Level, Place
from diagtree.knowledge.yaml_words import advice_for

_MOST_DEEP = 60  # nested levels; a tree needs seven
_TAGS: dict[type[yaml.Node], str] = {
    yaml.ScalarNode: "tag:yaml.org,2002:str",
    yaml.SequenceNode: "tag:yaml.org,2002:seq",
    yaml.MappingNode: "tag:yaml.org,2002:map",
}
_PLAIN_TAGS = frozenset(_TAGS.values())


class _Composer(getattr(yaml, "CSafeLoader", yaml.SafeLoader)):  # type: ignore[misc]
    """libyaml's composer without implicit types."""

    def resolve(self, kind: type[yaml.Node], value: object, implicit: object) -> str:  # noqa: ARG002 - PyYAML's signature
        """Return the plain tag of a node without one, whatever its text looks like."""
        return _TAGS[kind]


@dataclass(frozen=True, slots=True)
class Scalar:
    """A text. `plain` is False where it was quoted or a block: then it is never read as a number."""

    at: Place
    text: str
    plain: bool


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list."""

    at: Place
    items: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """A key's place and its value."""

    at: Place
    value: Node


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys in the author's order."""

    at: Place
    entries: dict[str, Entry]


Node = Scalar | Sequence | Mapping


def compose(text: str, file: str) -> tuple[Node | None, tuple[Finding, ...]]:
    """Return the file's one node (None for an empty or unreadable file) and what is wrong with the text.

    file : name used in places. Never raises for any text.
    """
    try:
        root = yaml.compose(text.removeprefix("\ufeff"), Loader=_Composer)
    except yaml.MarkedYAMLError as error:
        return None, (_syntax(error, text, file),)
    except yaml.reader.ReaderError as error:
        return None, (_unreadable_character(error, text, file),)
    except RecursionError:
        return None, (Finding("nested-too-deep", Level.ERROR, Place(file), "nested far too deep to be a tree"),)
    if root is None:
        return None, ()
    walker = _Walker(file, text)
    node = walker.node(root, 0)
    return node, (*walker.findings, *_anchors(text, file))


def _anchors(text: str, file: str) -> Iterator[Finding]:
    """Yield each anchor: composing leaves no trace of one that no alias names."""
    if "&" not in text:
        return
    for event in yaml.parse(text.removeprefix("\ufeff"), Loader=_Composer):
        if isinstance(event, yaml.NodeEvent) and event.anchor and not isinstance(event, yaml.AliasEvent):
            mark = event.start_mark
            at = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
            message = f"`&{event.anchor}` is an anchor, not allowed here; leave it out, or put the text in quotes"
            yield Finding("anchor", Level.ERROR, at, message)


class _Walker:
    def __init__(self, file: str, text: str) -> None:
        self.file = file
        self.lines = text.removeprefix("\ufeff").splitlines()
        self.findings: list[Finding] = []
        self._seen: set[int] = set()

    def node(self, node: yaml.Node, depth: int) -> Node:
        at = self._place(node.start_mark)
        if id(node) in self._seen or depth > _MOST_DEEP:
            if depth > _MOST_DEEP:
                self._say("nested-too-deep", at, f"nested more than {_MOST_DEEP} levels deep; a tree needs seven")
            else:
                self._say("alias", at, "an alias (`*name`) or anchor; write the text out where it is needed")
            return Scalar(at, "", False)
        self._seen.add(id(node))
        if node.tag not in _PLAIN_TAGS and node.tag != "!":
            tag = node.tag.replace("tag:yaml.org,2002:", "!!")
            self._say("tag", at, f"the tag `{tag}` is not allowed in knowledge files; leave it out")
        if isinstance(node, yaml.ScalarNode):
            return self._scalar(node, at)
        if isinstance(node, yaml.SequenceNode):
            return Sequence(at, tuple(self.node(item, depth + 1) for item in node.value))
        assert isinstance(node, yaml.MappingNode)  # the composer makes three kinds
        return Mapping(at, dict(self._entries(node, depth)))

    def _scalar(self, node: yaml.ScalarNode, at: Place) -> Scalar:
        plain = not node.style  # '' from libyaml, None from the Python parser
        if plain:
            self._cut_by_comment(node)
        return Scalar(at, node.value, plain)

    def _entries(self, node: yaml.MappingNode, depth: int) -> Iterator[tuple[str, Entry]]:
        first: dict[str, Place] = {}
        for key, value in node.value:
            at = self._place(key.start_mark)
            child = self.node(value, depth + 1)
            if not isinstance(key, yaml.ScalarNode):
                self._say("key-not-text", at, "a key must be one word or text, not a list or mapping")
            elif key.value == "<<" and not key.style:
                self._say("merge-key", at, "merge keys (`<<`) are not allowed; write the entries out")
            elif key.value in first:
                self._say(
                    "duplicate-key",
                    at,
                    f"`{key.value}` stands here a second time; first at line {first[key.value].line}: keep one",
                )
            else:
                first[key.value] = at
                yield key.value, Entry(at, child)

    def _cut_by_comment(self, node: yaml.ScalarNode) -> None:
        mark = node.end_mark
        rest = self.lines[mark.line][mark.column :] if mark.line < len(self.lines) else ""
        stripped = rest.lstrip()
        if len(stripped) > 1 and stripped[0] == "#" and rest != stripped and stripped[1] not in " #!:-=":
            self._say(
                "cut-by-comment",
                self._place(mark),
                f"the text ends before `{stripped[:20]}`, which YAML takes for a remark; "
                "put the text in quotes, or a space after `#`",
                Level.WARNING,
            )

    def _place(self, mark: yaml.Mark) -> Place:
        return Place(self.file, mark.line + 1, mark.column + 1)

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
