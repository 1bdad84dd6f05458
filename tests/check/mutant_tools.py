"""Tools to plant one named mistake in a valid folder, and to say beforehand on which line it must be told.

A planter changes a document (`put`, `drop`) or the text of a file (`line_of`, `with_line`), and says where the mistake
then stands. So file and line are known beforehand, and never taken from what the check says.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeAlias

import yaml

from tests.check.valid_folders import CATALOGUE, TREE, Folder

Draw: TypeAlias = Callable[[Any], Any]
Path: TypeAlias = tuple[Any, ...]

QUESTION, NUMBER = "danger-look", "test-0"
"""Tests that every folder has: one that a person answers, one that reads a number on a dead car behind two covers."""


@dataclass(frozen=True)
class Planted:
    """A spoilt folder as text, and where the mistake stands."""

    texts: dict[str, str]
    file: str
    line: int


Planter: TypeAlias = Callable[[Folder], Planted]
PLANTERS: dict[str, Planter] = {}


def plants(rule: str) -> Callable[[Planter], Planter]:
    """Enter a planter under the rule that must tell its mistake."""

    def enter(planter: Planter) -> Planter:
        assert rule not in PLANTERS
        PLANTERS[rule] = planter
        return planter

    return enter


def put(folder: Folder, file: str, *path: Any) -> None:
    """Write the last of `path` as the value at the keys before it."""
    *keys, last, value = path
    here = folder.files[file]
    for key in keys:
        here = here.setdefault(key, {}) if isinstance(here, dict) else here[key]
    here[last] = value


def drop(folder: Folder, file: str, *path: Any) -> None:
    """Take out what stands at `path`."""
    *keys, last = path
    here = folder.files[file]
    for key in keys:
        here = here[key]
    del here[last]


def key_line(text: str, path: Path) -> int:
    """Return the line of the key (or list item) at the end of `path`. Counts from 1."""
    return _nodes(text, path)[0].start_mark.line + 1


def value_line(text: str, path: Path) -> int:
    """Return the line where the value at the end of `path` begins. Counts from 1."""
    return _nodes(text, path)[1].start_mark.line + 1


def _nodes(text: str, path: Path) -> tuple[yaml.Node, yaml.Node]:
    node = yaml.compose(text, Loader=yaml.CBaseLoader)
    key = node
    for step in path:
        if isinstance(node, yaml.MappingNode):
            key, node = next((name, value) for name, value in node.value if name.value == str(step))
        else:
            node = node.value[step]
            key = node
    return key, node


def at_key(folder: Folder, file: str, *path: Any) -> Planted:
    """Return the folder with its mistake at a key."""
    texts = folder.texts()
    return Planted(texts, file, key_line(texts[file], path))


def at_value(folder: Folder, file: str, *path: Any) -> Planted:
    """Return the folder with its mistake at a value."""
    texts = folder.texts()
    return Planted(texts, file, value_line(texts[file], path))


def rewritten(folder: Folder, file: str, path: Path, change: Callable[[str], str], shift: int = 0) -> Planted:
    """Return the folder with the line of a key rewritten as text; the mistake stands `shift` lines below it."""
    texts = folder.texts()
    line = key_line(texts[file], path)
    rows = texts[file].split("\n")
    rows[line - 1] = change(rows[line - 1])
    return Planted({**texts, file: "\n".join(rows)}, file, line + shift)


def another_test(folder: Folder, **keys: Any) -> str:
    """Add a test at the desk to the catalogue, and let a cause show it; return its name."""
    said = {
        "ask": "What does it show?", "place": "reception", "minutes": 1, "outcomes": ["delta", "echo"],
        "healthy": "delta", "source": "made up for a test",
    } | keys  # fmt: skip
    put(folder, CATALOGUE, "tests", "planted", {key: value for key, value in said.items() if value is not None})
    return "planted"


def another_step(folder: Folder, then: Any) -> None:
    """Add a step `planted` to the tree, that performs another test."""
    put(folder, TREE, "steps", another_test(folder), {"then": then})


def first_step(folder: Folder, then: Any) -> None:
    """Let the tree begin with a step `planted`, whose test shows the same for all causes."""
    another_step(folder, then)
    put(folder, TREE, "start", "planted")


def another_cause(folder: Folder) -> None:
    """Add a cause `planted` to the catalogue and to the tree."""
    put(folder, CATALOGUE, "causes", "planted", {"name": "a fault", "advise": {"do": "Tell them.", "minutes": 1}})
    put(folder, TREE, "causes", "planted", 3)


def text_mistake(rule: str, change: Callable[[str], str], shift: int = 0) -> None:
    PLANTERS[rule] = lambda folder: rewritten(folder, CATALOGUE, ("tests", NUMBER, "ask"), change, shift)


def value_mistake(rule: str, file: str, *path: Any) -> None:
    """Plant a value; the mistake stands at it."""

    def planter(folder: Folder) -> Planted:
        put(folder, file, *path)
        return at_value(folder, file, *path[:-1])

    PLANTERS[rule] = planter


def missing(rule: str, file: str, *path: Any, told: Path) -> None:
    """Take something out; the mistake is told at the key `told`."""

    def planter(folder: Folder) -> Planted:
        drop(folder, file, *path)
        return at_key(folder, file, *told)

    PLANTERS[rule] = planter
