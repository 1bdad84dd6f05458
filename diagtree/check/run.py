"""Every rule over a folder of knowledge."""

from __future__ import annotations

from collections.abc import Iterable

from diagtree.check.rule import Rule, rules
from diagtree.check.subject import Subject
from diagtree.check.suppress import suppressed
from diagtree.knowledge.library import Library
from diagtree.knowledge.place import Finding

WAIT = "rules-wait"


def usual_rules(*, worth: bool = False, walks: bool = False) -> tuple[Rule, ...]:
    """Return the rules that run without being asked for; with `worth` and `walks`, those families too."""
    wished = {"worth": worth, "walks": walks}  # the families that take seconds, not moments
    return tuple(rule for rule in rules() if wished.get(rule.family, True))


def check_library(
    library: Library, chosen: Iterable[Rule] | None = None, walked: Iterable[Finding] = ()
) -> tuple[Finding, ...]:
    """Return what is wrong with the knowledge: the reader's findings and every rule's, each once, by place.

    chosen : the rules to run; the usual ones if not given. walked : what made-up walks found (`walks.run.play_walks`).
    A mistake that shows on several cars is told for the first. What a comment of the file allows with a reason is left
    out (`check/suppress.py`).
    """
    subject = Subject(library)
    wished = usual_rules() if chosen is None else tuple(chosen)
    run = tuple(rule for rule in wished if rule.can_tell(subject.unread))
    found: dict[tuple[object, ...], Finding] = {}
    for finding in (*library.all_findings(), *walked):
        found.setdefault((finding.rule, finding.place, finding.message), finding)
    for rule in run:
        for one in rule.find(subject) if rule.find else ():
            finding = Finding(rule.id, rule.level, one.at, one.message, one.witness)
            found.setdefault((finding.rule, finding.place, finding.message), finding)
    texts = {library.folder + name: text for name, text in library.texts.items()}
    # What a file that could not be read whole defines is not here: a finding may be gone with it, and its allowance
    # is not stale.
    left = suppressed(found.values(), texts, () if subject.unread else run, rules())
    # What waits stands behind what it waits for.
    return tuple(sorted(left, key=lambda one: (one.place.file, one.rule == WAIT, one.place, one.rule, one.message)))
