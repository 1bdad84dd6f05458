"""What a rule found on each car, told once, and where the reader has complained already."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from diagtree.check.rule import Found
from diagtree.check.subject import Car, Subject
from diagtree.knowledge.place import Level, Place


def told_once(subject: Subject, found: Iterable[tuple[Car, Found]]) -> Iterator[Found]:
    """Return each mistake once, with the first witness of it; the cars are named where not all of them show it."""
    first: dict[tuple[Place, str], Found] = {}
    cars: dict[tuple[Place, str], dict[str | None, None]] = {}
    for car, one in found:
        key = one.at, one.message
        cars.setdefault(key, {})[car.id] = None
        known = first.get(key)
        if known is None or (known.witness is None and one.witness is not None):
            first[key] = one
    for key, one in first.items():
        named = [car for car in cars[key] if car is not None]
        if len(cars[key]) == len(subject.cars) or not named:
            yield one
        else:
            yield replace(one, message=f"{one.message} (on {', '.join(f'`{car}`' for car in named)})")


def misread(subject: Subject, places: Iterable[Place]) -> bool:
    """Return whether the reader found an error on the line of one of these places: what stands there counts as 0."""
    wrong = {(one.place.file, one.place.line) for one in subject.library.findings if one.level is Level.ERROR}
    return any((place.file, place.line) in wrong for place in places)
