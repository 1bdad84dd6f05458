"""The catalogue as it is on each car: read and linked once, and again only where a car differs.

A car differs in a few entries. Merging keeps the nodes of all others as they are, so an entry that is the same node is
the same word; and links are told again only where what they rest on is another.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
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
    to lead nowhere for want of the file that defines them, and links are not told. unread : trees that
    could not be read.
    """

    sections: MappingNode
    complete: bool
    unread: frozenset[str] = frozenset()
    _words: dict[tuple[str, str], tuple[Entry, object, list[Finding]]] = field(default_factory=dict, repr=False)
    _links: dict[tuple[str, str], tuple[object, list[Finding]]] = field(default_factory=dict, repr=False)

    def catalogue(
        self, vehicle: Vehicle | None, differs: MappingNode | None, trees: Mapping[str, Tree]
    ) -> tuple[Catalogue, tuple[Finding, ...]]:
        """Return the catalogue on a car, and what is wrong with it and with the trees' links to it."""
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
            self._link(catalogue, trees, findings)
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

    def _link(self, catalogue: Catalogue, trees: Mapping[str, Tree], findings: Findings) -> None:
        def tell(kind: str, name: str, rests_on: object, link: Callable[[Findings], None]) -> None:
            known = self._links.get((kind, name))
            if known is None or known[0] != rests_on:
                known = (rests_on, _told(link))
                self._links.setdefault((kind, name), known)
            findings.found.extend(known[1])

        tell("access", "", (catalogue.access, catalogue.procedures), partial(link_access, catalogue))
        access = {one.id: (one.after, one.dead_only, one.refit_before_live) for one in catalogue.access.values()}
        shape = {test.id: (test.outcome_ids(), test.stop) for test in catalogue.tests.values()}
        for test in catalogue.tests.values():
            tell("test", test.id, (test, access), partial(link_test, test, catalogue))
        for cause in catalogue.causes.values():
            shown = {name: shape.get(name) for name in cause.shows}
            tell("cause", cause.id, (cause, shown, access), partial(link_cause, cause, catalogue))
        names = (tuple(catalogue.causes), tuple(catalogue.tests))
        known_trees = trees.keys() | self.unread
        for tree in trees.values():
            used = {step.test: shape.get(step.test) for step in tree.steps.values()}
            tell("tree", tree.id, (used, names), partial(link_tree, tree, catalogue, known_trees))


def _told(link: Callable[[Findings], None]) -> list[Finding]:
    findings = Findings()
    link(findings)
    return findings.found
