"""Lines that end in CR LF.

Fires:

    --- workshop.yaml
    workshop: Harbour Lane Garage\r
    rate: 96\r
    referral: 250\r
    comeback: 300\r

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
from diagtree.knowledge.place import Level, Place


def find(subject: Subject) -> Iterator[Found]:
    """Return the first such line of each file."""
    for name, text in subject.library.texts.items():
        first = text.find("\r\n")
        if first >= 0:
            line = text.count("\n", 0, first) + 1
            lines = text.count("\r\n")
            other = text.count("\n") - lines
            mixed = f", {other} in LF alone" if other else ""
            yield Found(
                Place(subject.library.folder + name, line),
                f"{'1 line ends' if lines == 1 else f'{lines} lines end'} in CR LF{mixed}; set the editor to LF",
            )


RULE = Rule(
    id="carriage-returns",
    family="words",
    level=Level.REMARK,
    finds="Line ends as some editors write them, CR LF instead of LF.",
    why="The file reads the same, but comparing two versions shows every line as changed.",
    find=find,
    text=__doc__,
)
