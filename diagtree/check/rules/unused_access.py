"""An access that nothing opens.

Fires:

    --- catalogue/more.yaml
    access:
      rear-bench: {name: rear seat bench, open: 20, close: 20}

Silent:

    --- catalogue/more.yaml
    access:
      rear-bench: {name: rear seat bench, open: 20, close: 20}
      rear-trim: {name: rear trim, after: [rear-bench], open: 5, close: 5}
    tests:
      lamp-lit:
        ask: Is the lamp in the inlet lit?
        place: bay
        minutes: 1
        needs: {power: live, open: [rear-trim]}
        outcomes: [yes, no]
        healthy: yes
        source: estimate, common practice
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import FOLDER, Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import opened_names
from diagtree.knowledge.place import Level


def find(subject: Subject) -> Iterator[Found]:
    """Return each access that no car's catalogue asks for."""
    wanted = frozenset[str]().union(*(opened_names(car.catalogue) for car in subject.cars))
    for car in subject.cars:
        for access in car.catalogue.access.values():
            if access.id not in wanted:
                yield Found(
                    access.at, f"nothing asks for access `{access.id}`; name it in a job's `open:`, or take it out"
                )


RULE = Rule(
    id="unused-access",
    family="links",
    level=Level.WARNING,
    finds="An access that no test, correction, procedure or other access asks for on any car.",
    why="A job that should have named it is shown as if the part lay open, and its minutes are too few.",
    find=find,
    text=__doc__,
    whole=FOLDER,
)
