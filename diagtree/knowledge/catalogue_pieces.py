"""A catalogue that is known to be sound, read piece by piece: an entry is composed when it is first asked for.

A walk needs some dozens of the hundreds of entries before its first question. What is cut apart here is YAML in the
usual form, a section at the left edge and its entries two blanks further in; whoever uses it has made sure beforehand
that it gives the same words as reading the files whole (`alike`).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Generic, TypeVar

from diagtree.knowledge.fields import Findings
from diagtree.knowledge.merge import merged
from diagtree.knowledge.on_cars import OnCars
from diagtree.knowledge.read_access import read_access, read_procedure
from diagtree.knowledge.read_cause import read_cause
from diagtree.knowledge.read_test import read_test
from diagtree.knowledge.words import Catalogue, Vehicle
from diagtree.knowledge.yaml_text import Entry, compose
from diagtree.knowledge.yaml_text import Mapping as MappingNode
from diagtree.records import dataclass

Word = TypeVar("Word")
_SECTION = re.compile(r"^([\w-]+):[ \t]*(?:#.*)?$")
_ENTRY = re.compile(r"^  ([\w.-]+):")


@dataclass(frozen=True, slots=True)
class Piece:
    """The text of one entry. above : number of lines before it in its file."""

    file: str
    above: int
    text: str

    def entry(self, name: str) -> Entry | None:
        """Return the composed entry; None where the text is not one entry of that name."""
        node, wrong = compose("\n" * self.above + self.text, self.file)
        if wrong or not isinstance(node, MappingNode) or list(node.entries) != [name]:
            return None
        return node.entries[name]


Pieces = Mapping[str, Mapping[str, Piece]]
"""Section to entry to its text."""


def cut(text: str, file: str, found: dict[str, dict[str, Piece]]) -> None:
    """Add the pieces of a catalogue file to `found`."""
    rows = text.removeprefix("\ufeff").split("\n")
    begun: tuple[str, str, int] | None = None  # section, entry, row

    def end(row: int) -> None:
        if begun is not None:
            section, name, first = begun
            found.setdefault(section, {})[name] = Piece(file, first, "\n".join(rows[first:row]))

    section = ""
    for number, row in enumerate(rows):
        if row[:1] not in ("", " ", "#"):
            end(number)
            begun = None
            heading = _SECTION.match(row)
            section = heading[1] if heading else ""
        elif section and (named := _ENTRY.match(row)):
            end(number)
            begun = (section, named[1], number)
    end(len(rows))


class Words(Mapping[str, Word], Generic[Word]):
    """The words of one section on one car, each read when it is first asked for."""

    def __init__(
        self, pieces: Mapping[str, Piece], differs: Mapping[str, Entry], reader: Callable[[str, Entry, Findings], Word]
    ) -> None:
        self._pieces, self._differs, self._reader = pieces, differs, reader
        self._names = tuple(dict.fromkeys((*pieces, *differs)))
        self._known: dict[str, Word] = {}

    def __getitem__(self, name: str) -> Word:
        if name not in self._known:
            self._known[name] = self._reader(name, self._entry(name), Findings())
        return self._known[name]

    def __contains__(self, name: object) -> bool:
        return name in self._pieces or name in self._differs

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)

    def _entry(self, name: str) -> Entry:
        below = self._pieces[name].entry(name) if name in self._pieces else None
        over = self._differs.get(name)
        if below is None and over is None:
            raise KeyError(name)
        if below is None or over is None:
            return below or over  # type: ignore[return-value]  # one of them is there
        if isinstance(below.value, MappingNode) and isinstance(over.value, MappingNode):
            return Entry(below.at, merged(below.value, over.value))
        return over


class Piecewise(OnCars):
    """Catalogues on cars from pieces. Nothing is told: it is for files without a mistake."""

    def __init__(self, pieces: Pieces, whole: MappingNode) -> None:
        super().__init__(whole, complete=True)
        self._pieces = pieces

    def catalogue(self, vehicle: Vehicle | None, differs: MappingNode | None) -> tuple[Catalogue, tuple[()]]:
        """Return the catalogue on a car."""

        def words(section: str, reader: Callable[[str, Entry, Findings], Word]) -> Words[Word]:
            other = differs.entries.get(section) if differs is not None else None
            entries = other.value.entries if other is not None and isinstance(other.value, MappingNode) else {}
            return Words(self._pieces.get(section, {}), entries, reader)

        found = Catalogue(
            tests=words("tests", read_test), causes=words("causes", read_cause), access=words("access", read_access),
            procedures=words("procedures", read_procedure), vehicle=vehicle,
        )  # fmt: skip
        return found, ()


def alike(one: Catalogue, other: Catalogue) -> bool:
    """Return whether two catalogues hold the same words in the same order, each at the same place."""
    sections = ("tests", "causes", "access", "procedures")
    try:
        return one.vehicle == other.vehicle and all(
            list(getattr(one, section).items()) == list(getattr(other, section).items()) for section in sections
        )
    except KeyError:  # an entry that the pieces do not have
        return False
