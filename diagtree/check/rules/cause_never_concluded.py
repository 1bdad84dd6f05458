"""A cause of the list that no step of the tree concludes.

Fires:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: {refer: the maker's helpline}}

Silent:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: sensor-resistance}
      sensor-resistance:
        then: {normal: {refer: the maker's helpline}, open: {conclude: sensor-open}}
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from diagtree.check.concluded import concluded, handed_over
from diagtree.check.rule import FOLDER, Found, Rule
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import SOMETHING_ELSE, Tree
from diagtree.reason.complaint_words import cause_of_complaint


def find(subject: Subject) -> Iterator[Found]:
    """Return each listed cause that neither this tree concludes nor one to which it hands over."""
    for one in subject.graphs():
        if not one.flow.branches:
            continue
        known = set(concluded(one.tree, one.tree.steps)) | _by_others(one.tree, subject.trees)
        for cause, at in one.tree.causes_at.items():
            if cause not in known and cause != SOMETHING_ELSE:
                message = f"no step concludes `{cause}`; conclude it where the answers say so, or take it off the list"
                yield Found(at, message, one.witnesses.of_cause(cause))


def _by_others(tree: Tree, trees: Mapping[str, Tree]) -> set[str]:
    """Return what is concluded in the trees that this one hands over to, and they in turn."""
    # Handing over says which complaint it is, where the complaints are the causes.
    found = {cause_of_complaint(name) for name, _, _ in handed_over(tree, tree.steps)}
    seen = {tree.id}
    waiting = [tree]
    while waiting:
        here = waiting.pop()
        for name, _, _ in handed_over(here, here.steps):
            if name in trees and name not in seen:
                seen.add(name)
                found.update(concluded(trees[name], trees[name].steps))
                waiting.append(trees[name])
    return found


RULE = Rule(
    id="cause-never-concluded",
    family="graph",
    level=Level.WARNING,
    finds="A cause of the list that no step concludes, here or in a tree to which this one hands over.",
    why="Every car with this cause is referred or repaired for something else first.",
    find=find,
    text=__doc__,
    whole=FOLDER,
    follows=True,
)
