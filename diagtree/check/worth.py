"""What trees cost, for the rules about worth: each tree on each car is priced once, with a bounded effort.

The effort is counted in turns of the search, not in seconds: the same folder has the same findings on every machine.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

from diagtree.check.subject import Subject, TreeOnCar
from diagtree.errors import DiagtreeError
from diagtree.records import dataclass

if TYPE_CHECKING:
    from diagtree.reason.price import Price

WHOLE, BETTERED, EFFORT = 15, 40, 30
"""Turns for one tree on one car; small trees need far fewer.

They go to a search of the whole, until its policy is bettered point by point (`plan_improve`), and to the search of
every state of the tree. More of the last costs seconds on large trees and moves their best cost by less than 1 in 100.
"""

_KNOWN: WeakKeyDictionary[Subject, tuple[Priced, ...]] = WeakKeyDictionary()


@dataclass(frozen=True, slots=True)
class Priced:
    """A tree on a car, and what walking it costs there."""

    one: TreeOnCar
    price: Price

    @property
    def where(self) -> str:
        """The car, for messages."""
        return f" (on `{self.one.car.id}`)" if self.one.car.id is not None else ""


class Countdown:
    """Says that time is out after it was asked so many times."""

    def __init__(self, turns: int) -> None:
        self._left = turns

    def __call__(self) -> bool:
        """Count one turn; return whether none is left."""
        self._left -= 1
        return self._left < 0


def priced(subject: Subject) -> tuple[Priced, ...]:
    """Return every tree on every vehicle with its price; on the catalogue as written where there is no vehicle.

    A tree that cannot be priced (an error, a loop, a cost that the house lacks) is left out: other rules tell why.
    """
    if subject not in _KNOWN:
        _KNOWN[subject] = tuple(_priced(subject))
    return _KNOWN[subject]


def cars_worth_a_price(subject: Subject) -> Iterator[TreeOnCar]:
    """Give every tree on every car that is walked, where nothing of it is wrong."""
    vehicles = any(car.id is not None for car in subject.cars)
    for one in subject.trees_on_cars():
        if (one.car.id is None and vehicles) or not one.tree.steps:
            continue
        try:
            subject.library.require(one.tree.id, one.car.id)
        except DiagtreeError:  # told by the reader
            continue
        yield one


def _priced(subject: Subject) -> Iterator[Priced]:
    from diagtree.reason.plan import Solver
    from diagtree.reason.plan_improve import improved
    from diagtree.reason.price import price  # on wish only: a check on save must not wait for it
    from diagtree.reason.problem import compile_problem

    for one in cars_worth_a_price(subject):
        try:
            solver = Solver(compile_problem(one.tree, one.catalogue, subject.house))
            improved(solver, whole=Countdown(WHOLE), out_of_time=Countdown(BETTERED))
            found = price(one.tree, one.catalogue, subject.house, solver=solver, out_of_time=Countdown(EFFORT))
        except DiagtreeError:  # no price: told by the rules about graph and meaning
            continue
        yield Priced(one, found)
