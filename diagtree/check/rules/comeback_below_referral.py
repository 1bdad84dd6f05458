"""A house in which wrong advice is cheaper than giving the car away.

Fires:

    --- workshop.yaml
    workshop: Harbour Lane Garage
    rate: 96
    referral: 250
    comeback: 200

Silent:

    --- workshop.yaml
    workshop: Harbour Lane Garage
    rate: 96
    referral: 250
    comeback: 250
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level


def find(subject: Subject) -> Iterator[Found]:
    """Return a workshop file whose `comeback` is below its `referral`."""
    shop = subject.library.workshop
    if shop is not None and shop.comeback is not None and shop.referral is not None and shop.comeback < shop.referral:
        yield Found(
            shop.at,
            f"`comeback: {shop.comeback:g}` is below `referral: {shop.referral:g}`: wrong advice would be the cheap "
            "way out; count the second visit and what the owner's trust is worth",
        )


RULE = Rule(
    id="comeback-below-referral",
    family="meaning",
    level=Level.WARNING,
    finds="A `comeback` that costs less than a `referral`.",
    why="The best plan is then to advise somebody at random and see who comes back.",
    find=find,
    text=__doc__,
)
