"""The trees of a folder, each read when it is first asked for: a walk needs one of them before its first question."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from diagtree.knowledge.fields import Findings
from diagtree.knowledge.place import Finding, Place
from diagtree.knowledge.read_tree import read_tree
from diagtree.knowledge.words import Tree
from diagtree.knowledge.yaml_text import compose


class TreeFiles(Mapping[str, Tree]):
    """Tree id to tree. texts : file name to text, of the tree files alone. folder : as in the findings' places.

    Counting and listing read all of them; asking for one reads that one.
    """

    def __init__(self, texts: Mapping[str, str], folder: str) -> None:
        self._texts = {name.removesuffix(".yaml"): text for name, text in sorted(texts.items())}
        self._folder = folder
        self._broken: set[str] = set()
        self._read: dict[str, tuple[Tree | None, tuple[Finding, ...]]] = {}

    def __getitem__(self, tree: str) -> Tree:
        found = self._of(tree)[0] if tree in self._texts else None
        if found is None:
            raise KeyError(tree)
        return found

    def __iter__(self) -> Iterator[str]:
        return (tree for tree in self._texts if self._of(tree)[0] is not None)

    def __len__(self) -> int:
        return sum(1 for _ in self)

    @property
    def named(self) -> frozenset[str]:
        """The trees that a hand-over may name: those of all files that say something, read or not, sound or not."""
        return frozenset(tree for tree, text in self._texts.items() if _says_something(text))

    @property
    def unread(self) -> frozenset[str]:
        """The files, by name, that are no YAML. Reads all."""
        return frozenset(f"{tree}.yaml" for tree in self._texts if self._of(tree)[0] is None and tree in self._broken)

    def findings(self, tree: str) -> tuple[Finding, ...]:
        """Return what is wrong in the file of a tree; nothing where there is no such file."""
        return self._of(tree)[1] if tree in self._texts else ()

    def all_findings(self) -> Iterator[Finding]:
        """Give what is wrong in any of the files."""
        for tree in self._texts:
            yield from self._of(tree)[1]

    def _of(self, tree: str) -> tuple[Tree | None, tuple[Finding, ...]]:
        if tree not in self._read:
            findings = Findings()
            name = f"{self._folder}{tree}.yaml"
            node, wrong = compose(self._texts[tree], name)
            findings.found.extend(wrong)
            if node is None and wrong:
                self._broken.add(tree)
            elif node is None:
                tell_empty(name, findings)
            found = None if node is None else read_tree(node, tree, findings)
            self._read[tree] = found, tuple(findings.found)
        return self._read[tree]


def tell_empty(file: str, findings: Findings) -> None:
    """Add the finding for a file that holds nothing."""
    findings.error("empty-file", Place(file), "the file is empty; write it or delete it")


def _says_something(text: str) -> bool:
    """Return whether a text is more than remarks, without reading it."""
    rows = (row.lstrip() for row in text.removeprefix("\ufeff").splitlines())
    return any(row and not row.startswith("#") for row in rows)
