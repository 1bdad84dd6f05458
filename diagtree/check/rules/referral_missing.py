"""A house that does not say what it costs to give a car away, although a tree reckons with causes off its list.

Fires:

    --- workshop.yaml
    workshop: Harbour Lane Garage
    rate: 96
    comeback: 300

Silent:

    --- workshop.yaml
    workshop: Harbour Lane Garage
    rate: 96
    referral: 250
    comeback: 300
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import SOMETHING_ELSE


def find(subject: Subject) -> Iterator[Found]:
    """Return a workshop file without `referral` where some tree lists `something-else`."""
    shop = subject.library.workshop
    trees = [tree.id for tree in subject.trees.values() if SOMETHING_ELSE in tree.causes]
    if shop is not None and shop.referral is None and trees:
        yield Found(
            shop.at,
            f"tree `{trees[0]}` reckons with `{SOMETHING_ELSE}`, which only another house can find; "
            "add `referral:`, what it costs to give a car to somebody else",
        )


RULE = Rule(
    id="referral-missing",
    family="meaning",
    level=Level.WARNING,
    finds="A workshop without `referral` beside a tree with `something-else`.",
    why="Price and plan cannot be computed: a car with none of the listed causes would never leave the bay.",
    find=find,
    text=__doc__,
)
