"""A house that does not say what wrong advice costs, although some cause ends in advice.

Fires:

    --- workshop.yaml
    workshop: Harbour Lane Garage
    rate: 96
    referral: 250

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


def find(subject: Subject) -> Iterator[Found]:
    """Return a workshop file without `comeback` where a listed cause of some tree ends in advice."""
    shop = subject.library.workshop
    if shop is None or shop.comeback is not None:
        return
    for one in subject.trees_on_cars():
        advised = [cause for cause in one.flow.causes if one.catalogue.causes[cause].advise is not None]
        if advised:
            yield Found(
                shop.at,
                f"`{advised[0]}` of tree `{one.tree.id}` ends in advice; add `comeback:`, "
                "what it costs when a car comes back after wrong advice",
            )
            return


RULE = Rule(
    id="comeback-missing",
    family="meaning",
    level=Level.WARNING,
    finds="A workshop without `comeback` beside a tree with a cause that ends in advice.",
    why="Price and plan cannot be computed: wrong advice would cost nothing and be the best act everywhere.",
    find=find,
    text=__doc__,
    follows=True,
)
