"""Every rule over a folder of knowledge."""

from __future__ import annotations

from collections.abc import Iterable

from diagtree.check.rule import Rule, rules
from diagtree.check.subject import Subject
from diagtree.knowledge.library import Library
from diagtree.knowledge.place import Finding


def check_library(library: Library, chosen: Iterable[Rule] | None = None) -> tuple[Finding, ...]:
    """Return what is wrong with the knowledge: the reader's findings and every rule's, each once, by place.

    chosen : the rules to run; all if not given. A mistake that shows on several cars is told for the first.
    """
    subject = Subject(library)
    found: dict[tuple[object, ...], Finding] = {}
    for finding in library.all_findings():
        found.setdefault((finding.rule, finding.place, finding.message), finding)
    for rule in rules() if chosen is None else chosen:
        for one in rule.find(subject) if rule.find else ():
            finding = Finding(rule.id, rule.level, one.at, one.message, one.witness)
            found.setdefault((finding.rule, finding.place, finding.message), finding)
    return tuple(sorted(found.values(), key=lambda one: (one.place, one.rule, one.message)))
