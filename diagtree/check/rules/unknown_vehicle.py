"""A vehicle profile that does not exist.

Fires:

    --- workshop.yaml
    workshop: Harbour Lane Garage
    rate: 96
    referral: 250
    comeback: 300
    vehicle: petrel-3

Silent:

    --- workshop.yaml
    workshop: Harbour Lane Garage
    rate: 96
    referral: 250
    comeback: 300
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="unknown-vehicle",
    family="links",
    level=Level.ERROR,
    finds="A workshop whose usual car has no profile.",
    why="Limits would be computed for no car at all.",
    find=None,
    text=__doc__,
)
