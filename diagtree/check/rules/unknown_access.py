"""An access that does not exist.

Fires:

    --- catalogue/more.yaml
    access:
      rear-bench: {name: rear seat bench, after: [front-bench], open: 20, close: 20}

Silent:

    --- catalogue/more.yaml
    access:
      rear-bench: {name: rear seat bench, open: 20, close: 20}
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="unknown-access",
    family="links",
    level=Level.ERROR,
    finds="An `open` or `after` that names something which no catalogue file defines.",
    why="What must be taken off would not be told, not timed and not put back.",
    find=None,
    text=__doc__,
)
