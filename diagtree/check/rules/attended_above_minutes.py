"""A job in which somebody is busy longer than it lasts.

Fires:

    --- catalogue/more.yaml
    causes:
      fuse-blown:
        name: Fuse of the socket blown
        where: outside
        advise: {do: Have the socket checked., minutes: 5, attended: 50}

Silent:

    --- catalogue/more.yaml
    causes:
      fuse-blown:
        name: Fuse of the socket blown
        where: outside
        advise: {do: Have the socket checked., minutes: 50, attended: 5}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.written import place_on
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import Advice, Catalogue, Correction, Proof, Test


def find(subject: Subject) -> Iterator[Found]:
    """Return each test, correction, proof and advice whose `attended` is above its `minutes`, on any car."""
    for car in subject.cars:
        for name, section, path, timed in _timed(car.catalogue):
            if timed.attended is not None and timed.attended > timed.minutes:
                at = getattr(car.catalogue, section)[path[0]].at
                yield Found(
                    place_on(subject, car, at, section, *path, "attended"),
                    f"`attended: {timed.attended:g}` of {name} is more than its `minutes: {timed.minutes:g}`; write "
                    "how many of the minutes somebody must be there",
                )


def _timed(
    catalogue: Catalogue,
) -> Iterator[tuple[str, str, tuple[str, ...], Test | Correction | Proof | Advice]]:
    for test in catalogue.tests.values():
        yield f"test `{test.id}`", "tests", (test.id,), test
    for cause in catalogue.causes.values():
        for key, timed in (("correction", cause.correction), ("proof", cause.proof), ("advise", cause.advise)):
            if timed is not None:
                yield f"`{key}` of cause `{cause.id}`", "causes", (cause.id, key), timed


RULE = Rule(
    id="attended-above-minutes",
    family="meaning",
    level=Level.WARNING,
    finds="A job whose `attended` is above its `minutes`.",
    why="The two are mostly swapped: the bay is planned for the short one, and the bill holds the long one.",
    find=find,
    text=__doc__,
)
