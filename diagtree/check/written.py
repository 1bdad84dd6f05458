"""Where something stands in the files that the words do not remember the place of: found by reading the text again.

Only for messages, and only once something was found: words keep the places that nearly every message needs.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from diagtree.check.subject import Car, Subject
from diagtree.knowledge.place import Place
from diagtree.knowledge.yaml_text import Mapping, Node, Scalar, Sequence, compose


def place_on(subject: Subject, car: Car, at: Place, section: str, name: str, *path: str | int) -> Place:
    """Return where what `path` leads to, below the entry `name` of a catalogue section, is written for `car`.

    at : the place of the entry; the answer where nothing more exact is found. What the car's profile differs in stands
    there, all else in the catalogue.
    """
    if car.vehicle is not None:
        own = _follow(_file(subject, car.vehicle.at), ("differs", section, name, *path))
        if own is not None:
            return own
    return place_below(subject, at, *path)


def place_below(subject: Subject, at: Place, *path: str | int) -> Place:
    """Return where what `path` leads to, below the entry whose key stands at `at`, is written; else `at`."""
    if not path:
        return at
    for entry_at, value in _entries(_file(subject, at)):
        if entry_at == at:
            return _follow(value, path) or at
    return at


def fact_place(subject: Subject, car: Car, dotted: str) -> Place:
    """Return where the fact `vehicle.a.b` stands in the car's profile, or the part of it that is there."""
    assert car.vehicle is not None
    keys = dotted.removeprefix("vehicle.").split(".")
    node = _file(subject, car.vehicle.at)
    for count in range(len(keys), 0, -1):
        found = _follow(node, tuple(keys[:count]))
        if found is not None:
            return found
    return car.vehicle.at


def _file(subject: Subject, at: Place) -> Node | None:
    name = at.file.removeprefix(subject.library.folder)
    return _composed(subject.library.texts.get(name, ""), at.file)


@lru_cache(maxsize=32)
def _composed(text: str, file: str) -> Node | None:
    return compose(text, file)[0]


def _entries(node: Node | None) -> Iterator[tuple[Place, Node]]:
    if isinstance(node, Mapping):
        for entry in node.entries.values():
            yield entry.at, entry.value
            yield from _entries(entry.value)
    elif isinstance(node, Sequence):
        for item in node.items:
            yield item.at, item
            yield from _entries(item)


def _follow(node: Node | None, path: tuple[str | int, ...]) -> Place | None:
    """Return where the value at the end of `path` stands; its key, where it is a block of its own."""
    at = node.at if node is not None else None
    for step in path:
        if isinstance(node, Mapping) and step in node.entries:
            entry = node.entries[str(step)]
            node, at = entry.value, entry.value.at if isinstance(entry.value, Scalar) else entry.at
        elif isinstance(node, Sequence) and isinstance(step, int) and step < len(node.items):
            node = node.items[step]
            at = node.at
        elif isinstance(node, Scalar) and step == 0:
            at = node.at  # one text alone counts as a list of one
        else:
            return None
    return at
