"""All files of a tree on paper: its page, the sheets of its picture, and the graph for other programs."""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.knowledge.library import Library
from diagtree.report.tree_page import Paper, page
from diagtree.report.tree_picture import pictures


def papers(library: Library, tree: str) -> Iterator[tuple[str, str]]:
    """Give name and text of each file: TREE.md, then TREE.svg, TREE-2.svg, ... that the page shows.

    Raises KnowledgeError where the tree or the catalogue is not sound.
    """
    known, catalogue = library.require(tree, None)
    cars = {car: library.catalogue(car) for car in library.profiles}
    drawn = pictures(known, catalogue)
    sheets = [f"{tree}.svg" if number == 1 else f"{tree}-{number}.svg" for number, _ in enumerate(drawn, 1)]
    yield f"{tree}.md", page(Paper(known, catalogue, cars, library.workshop, sheets))
    yield from zip(sheets, drawn, strict=True)
