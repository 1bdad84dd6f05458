"""Drills, one kind a file: a situation, a question, answers to choose from, and why the right ones are right.

A drill is pure and seeded: the same bench and seed ask the same question on any machine. The right answers are never
written by hand: the same code that judges a walk (readings, absence of voltage, arrangement) judges them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from typing import TypeVar

from diagtree.car.dice import chance
from diagtree.discover import collect
from diagtree.records import dataclass
from diagtree.walk.context import Walk

Thing = TypeVar("Thing")


@dataclass(frozen=True, slots=True)
class Option:
    """One answer that may be chosen: the word that is typed or recorded, and its text."""

    id: str
    text: str


@dataclass(frozen=True, slots=True)
class Question:
    """One question of a drill.

    subject : one of `subject.SUBJECTS`. about : id of the test, verdict or procedure that it is about.
    right : ids of the right answers; with `many` all of them must be named, and none else.
    why : lines to read after answering: limit, formula, source. hint : what may be asked for before, at a price.
    """

    drill: str
    subject: str
    about: str
    heading: str
    situation: tuple[str, ...]
    ask: str
    options: tuple[Option, ...]
    right: frozenset[str]
    why: tuple[str, ...]
    hint: tuple[str, ...]
    many: bool = False


@dataclass(frozen=True, slots=True)
class Dice:
    """Dice of one question: what is thrown under one name falls the same for the same seed."""

    seed: str

    def chance(self, *thrown_for: object) -> float:
        """Return a number from 0 up to, not including, 1. [-]"""
        return chance(self.seed, *thrown_for)

    def pick(self, things: Sequence[Thing], *thrown_for: object) -> Thing:
        """Return one of `things`, each with the same chance."""
        return things[int(self.chance(*thrown_for) * len(things))]

    def shuffled(self, things: Sequence[Thing], *thrown_for: object) -> list[Thing]:
        """Return all of `things` in an order of chance."""
        ranks = {place: self.chance(*thrown_for, place) for place in range(len(things))}
        return [things[place] for place in sorted(ranks, key=lambda place: (ranks[place], place))]


@dataclass(frozen=True, slots=True)
class Drill:
    """One kind of drill.

    mode : reading or safety; a round of that mode draws from all its drills. subjects : what it has questions about
    on these cars. ask : returns a question about one of those subjects.
    """

    id: str
    mode: str
    subjects: Callable[[Sequence[Walk]], frozenset[str]]
    ask: Callable[[Sequence[Walk], str, Dice], Question]


@cache
def drills() -> tuple[Drill, ...]:
    """Return every kind of drill, by the name of its file."""
    from diagtree.quiz import drills as package

    return collect(package, "DRILL", Drill)
