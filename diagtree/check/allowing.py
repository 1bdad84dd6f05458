"""Comments in a computed tree that allow what `check` warns of in it, each with its reason."""

from __future__ import annotations

from collections.abc import Mapping

from diagtree.check.run import check_library, usual_rules
from diagtree.knowledge.library import Library, read_library
from diagtree.knowledge.place import Finding, Level


def allowing(
    text: str, name: str, library: Library, reasons: Mapping[str, str]
) -> tuple[str, tuple[Finding, ...]]:
    """Return the text of a tree with a comment above each line that `check` warns of, and the findings that are left.

    name : its file's name among the files of `library`. reasons : rule to the reason why it is allowed in this tree;
    findings of other rules, and errors, are left.
    """
    texts = {**library.texts, name: text}
    file = library.folder + name
    found = [one for one in check_library(read_library(texts, library.folder), usual_rules()) if one.place.file == file]
    lines = text.splitlines()
    left = [one for one in found if one.level is Level.ERROR or one.rule not in reasons]
    rows = {(one.place.line, one.rule) for one in found if one not in left}
    for line, rule in sorted(rows, reverse=True):
        below = lines[line - 1]
        indent = below[: len(below) - len(below.lstrip())]
        lines.insert(line - 1, f"{indent}# check: allow {rule} because {reasons[rule]}")
    return "\n".join((*lines, "")), tuple(left)
