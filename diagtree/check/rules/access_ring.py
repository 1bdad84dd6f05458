"""Accesses that each wait for the other.

Fires:

    --- catalogue/more.yaml
    access:
      rear-bench: {name: rear seat bench, after: [rear-trim], open: 20, close: 20}
      rear-trim: {name: rear trim, after: [rear-bench], open: 5, close: 5}

Silent:

    --- catalogue/more.yaml
    access:
      rear-bench: {name: rear seat bench, open: 20, close: 20}
      rear-trim: {name: rear trim, after: [rear-bench], open: 5, close: 5}
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="access-ring",
    family="graph",
    level=Level.ERROR,
    finds="An access that is `after` itself, by way of what it is after.",
    why="Neither could ever be opened first, and the time to get there would be wrong.",
    find=None,
    text=__doc__,
)
