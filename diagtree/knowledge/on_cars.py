"""The catalogue as it is on each car: read and linked once, and again only where a car differs.

A car differs in a few entries. Merging keeps the nodes of all others as they are, so an entry that is the same node is
the same word; and links are told again only where what they rest on is another.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, field
from functools import partial
from typing import TypeAlias, TypeVar

from diagtree.knowledge.differs import known_entries
from diagtree.knowledge.fields import Fields, Findings
from diagtree.knowledge.links import link_access, link_cause, link_test, link_tree
from diagtree.knowledge.merge import merged
from diagtree.knowledge.place import Finding
from diagtree.knowledge.read_access import read_access, read_procedure
from diagtree.knowledge.read_cause import read_cause
from diagtree.knowledge.read_test import read_test
from diagtree.knowledge.words import Catalogue, Tree, Vehicle
from diagtree.knowledge.yaml_text import Entry
from diagtree.knowledge.yaml_text import Mapping as MappingNode

Word = TypeVar("Word")
Reader: TypeAlias = Callable[[str, Entry, Findings], Word]


@dataclass
class OnCars:
    """The catalogue files' entries, and what was read of them as written.

    sections : the entries of all files. complete : whether every catalogue file could be read; else names would seem
    to lead nowhere for want of the file that defines them, and links are not told.
    """

    sections: MappingNode
    complete: bool
    _words: dict[tuple[str, str], tuple[Entry, object, list[Finding]]] = field(default_factory=dict, repr=False)
    _links: dict[tuple[str, str], tuple[object, list[Finding]]] = field(default_factory=dict, repr=False)

    def catalogue(
        self, vehicle: Vehicle | None, differs: MappingNode | None
    ) -> tuple[Catalogue, tuple[Finding, ...]]:
        """Return the catalogue on a car, and what is wrong with it."""
        findings = Findings()
        if differs is not None:
            differs = known_entries(differs, self.sections, findings if self.complete else Findings())
        fields = Fields(self.sections if differs is None else merged(self.sections, differs), "the catalogue", findings)
        catalogue = Catalogue(
            tests=dict(self._read("tests", read_test, fields)),
            causes=dict(self._read("causes", read_cause, fields)),
            access=dict(self._read("access", read_access, fields)),
            procedures=dict(self._read("procedures", read_procedure, fields)),
            vehicle=vehicle,
        )
        if self.complete:
            self._link(catalogue, findings)
        return catalogue, tuple(findings.found)

    def _read(self, section: str, reader: Reader[Word], fields: Fields) -> Iterator[tuple[str, Word]]:
        for name, entry in fields.children(section):
            known = self._words.get((section, name))
            if known is None or known[0] is not entry:
                apart = Findings()
                word = reader(name, entry, apart)
                fields.findings.found.extend(apart.found)
                self._words.setdefault((section, name), (entry, word, apart.found))
            else:
                word = known[1]  # type: ignore[assignment]  # what this section's reader made of the same node
                fields.findings.found.extend(known[2])
            yield name, word

    def tree_links(self, tree: Tree, catalogue: Catalogue, trees: Collection[str]) -> list[Finding]:
        """Return what is wrong with a tree's links to the catalogue on a car. trees : what may be handed over to."""
        if not self.complete:
            return []
        used = {name: _shape(catalogue, name) for name in dict.fromkeys(s.test for s in tree.steps.values())}
        names = (tuple(catalogue.causes), tuple(catalogue.tests))
        return self._linked("tree", tree.id, (used, names), partial(link_tree, tree, catalogue, trees))

    def _link(self, catalogue: Catalogue, findings: Findings) -> None:
        def tell(kind: str, name: str, rests_on: object, link: Callable[[Findings], None]) -> None:
            findings.found.extend(self._linked(kind, name, rests_on, link))

        tell("access", "", (catalogue.access, catalogue.procedures), partial(link_access, catalogue))
        access = {one.id: (one.after, one.dead_only, one.refit_before_live) for one in catalogue.access.values()}
        shape = {test: _shape(catalogue, test) for test in catalogue.tests}
        for test in catalogue.tests.values():
            tell("test", test.id, (test, access), partial(link_test, test, catalogue))
        for cause in catalogue.causes.values():
            shown = {name: shape.get(name) for name in cause.shows}
            tell("cause", cause.id, (cause, shown, access), partial(link_cause, cause, catalogue))

    def _linked(self, kind: str, name: str, rests_on: object, link: Callable[[Findings], None]) -> list[Finding]:
        known = self._links.get((kind, name))
        if known is None or known[0] != rests_on:
            known = (rests_on, _told(link))
            self._links.setdefault((kind, name), known)
        return known[1]


def _shape(catalogue: Catalogue, test: str) -> object:
    """Return what a link to a test rests on; None where there is none of that name."""
    known = catalogue.tests.get(test)
    return None if known is None else (known.outcome_ids(), known.stop)


def _told(link: Callable[[Findings], None]) -> list[Finding]:
    findings = Findings()
    link(findings)
    return findings.found
