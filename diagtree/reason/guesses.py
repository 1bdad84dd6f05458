"""The figures that a best strategy rests on, each with what changes it and how a fixed policy's cost hangs on it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, TypeAlias, TypeVar

from diagtree.knowledge.words import (
    HAND_BACK,
    Access,
    Advice,
    Catalogue,
    Cause,
    Correction,
    Procedure,
    Proof,
    Test,
    Tree,
)
from diagtree.reason.arrangement import LIVE, Moved
from diagtree.reason.plan_costs import Costs
from diagtree.reason.problem import stated_chance
from diagtree.records import dataclass

if TYPE_CHECKING:
    from diagtree.reason.plan_arrays import Floats
    from diagtree.reason.written_costs import Sums

FAR = 4.0  # a share, a time and a price are tried from a quarter to four times what is written

Job = TypeVar("Job", Test, Correction, Proof, Advice)
Known: TypeAlias = tuple[Tree, Catalogue]


@dataclass(frozen=True, slots=True)
class Guess:
    """One figure of the knowledge: its `kind`, of what, and its value, between `low` and `high`.

    kind : `share`, `shows` or `mistake` (per cent), `minutes`, `price`.
    change : gives the knowledge with another value.
    slope : what a fixed policy's cost over all cars rises by, for each unit that the value rises by.
    """

    kind: str
    of: str
    value: float
    low: float
    high: float
    change: Callable[[float], Known]
    slope: Callable[[Sums], float]


def guesses(tree: Tree, catalogue: Catalogue, costs: Costs) -> Iterator[Guess]:
    """Give every share, per cent, time and price that the problem of `tree`, with these `costs`, rests on.

    A figure of 0 minutes, 0 per cent of mistakes or a part that costs nothing is no guess.
    """
    found, problem = _Guesses(tree, catalogue, costs), costs.problem
    yield from found.shares()
    for number, test in enumerate(problem.tests):
        yield from found.of_test(number, test.id)
    for number, cause_id in enumerate(problem.causes):
        if cause_id in catalogue.causes:
            yield from found.of_cause(number, catalogue.causes[cause_id])
    yield from found.of_the_house()


class _Guesses:
    def __init__(self, tree: Tree, catalogue: Catalogue, costs: Costs) -> None:
        self.tree = tree
        self.catalogue = catalogue
        self.moves = _Moves(costs)
        self.problem = problem = costs.problem
        self.tests = len(problem.tests)
        self.causes = len(problem.causes)

    def shares(self) -> Iterator[Guess]:
        for number, (listed, share) in enumerate(self.tree.causes.items()):
            if share > 0:
                yield Guess(
                    "share", listed, share, share / FAR, share * FAR, partial(self._with_share, listed),
                    partial(_by_share, number),
                )

    def of_test(self, number: int, test_id: str) -> Iterator[Guess]:
        test = self.catalogue.tests[test_id]
        if test.minutes > 0:
            yield self._minutes(
                test_id, test.minutes, test.labour,
                lambda value: self._with_test(_longer(test, value)), partial(_cars, number),
            )
        if test.mistake > 0:
            yield Guess(
                "mistake", test_id, test.mistake, test.mistake / FAR, min(100.0, test.mistake * FAR),
                lambda value: self._with_test(replace(test, mistake=value)), self._by_mistake(number, test_id),
            )

    def of_cause(self, number: int, cause: Cause) -> Iterator[Guess]:
        for test_id, shown in cause.shows.items():
            for outcome, percent in list(shown.items())[: 1 if len(shown) == 2 else None]:  # of two, one says both
                rest = self._rest(shown, test_id, outcome)
                yield Guess(
                    "shows", f"{cause.id}: {test_id} {outcome}", percent, 0.0, 100.0,
                    self._shows(cause, test_id, outcome, rest), self._by_shows(number, test_id, outcome, rest),
                )
        correct, advise = self.tests + number, self.tests + self.causes + number
        for word, part, act in (("correction", cause.correction, correct), ("proof", cause.proof, correct),
                                ("advice", cause.advise, advise)):
            if part is not None and part.minutes > 0:
                yield self._minutes(
                    f"{word} of {cause.id}", part.minutes, part.labour, self._longer_part(cause, part),
                    partial(_cars, act),
                )
        work = cause.correction
        if work is not None and work.price > 0:
            yield Guess(
                "price", cause.id, work.price, work.price / FAR, work.price * FAR,
                lambda value: self._with_cause(replace(cause, correction=_dearer(work, value))),
                partial(_cars, correct),
            )

    def of_the_house(self) -> Iterator[Guess]:
        """Give the minutes of procedures and accesses."""
        for name, procedure in self.catalogue.procedures.items():
            yield from self._moved(name, procedure.minutes, partial(self._with_procedure, procedure))
        for name, access in self.catalogue.access.items():
            yield from self._moved(f"open {name}", access.open, partial(self._with_opening, access))
            yield from self._moved(f"close {name}", access.close, partial(self._with_closing, access))

    def _moved(self, of: str, minutes: float, change: Callable[[float], Catalogue]) -> Iterator[Guess]:
        if minutes > 0:
            yield Guess(
                "minutes", of, minutes, minutes / FAR, minutes * FAR, lambda value: (self.tree, change(value)),
                lambda sums: self.moves.slope(of, sums),
            )

    def _minutes(
        self, of: str, minutes: float, labour: float, change: Callable[[float], Known], cars: Callable[[Sums], float]
    ) -> Guess:
        rate = self.problem.money(labour / minutes)
        return Guess(
            "minutes", of, minutes, minutes / FAR, minutes * FAR, change, lambda sums: rate * cars(sums)
        )

    def _rest(self, shown: Mapping[str, float], test_id: str, outcome: str) -> Mapping[str, float]:
        """Return how the test's other outcomes share what one leaves: as they did before; they sum to 1."""
        others = {key: percent for key, percent in shown.items() if key != outcome}
        whole = sum(others.values())
        if whole > 0:
            return {key: percent / whole for key, percent in others.items()}
        left = [key for key in self.catalogue.tests[test_id].outcome_ids() if key != outcome]
        return {key: 1 / len(left) for key in left}  # one outcome only: nothing says how

    def _shows(
        self, cause: Cause, test_id: str, outcome: str, rest: Mapping[str, float]
    ) -> Callable[[float], Known]:
        def change(value: float) -> Known:
            shown = {key: (100 - value) * part for key, part in rest.items()} | {outcome: value}
            return self._with_cause(replace(cause, shows={**cause.shows, test_id: shown}))

        return change

    def _by_shows(
        self, number: int, test_id: str, outcome: str, rest: Mapping[str, float]
    ) -> Callable[[Sums], float]:
        test = self.catalogue.tests[test_id]
        told = (1 - test.mistake / 100) / 100
        slopes = [told if one == outcome else -told * rest.get(one, 0.0) for one in test.outcome_ids()]
        row = next(row for row, known in enumerate(self.problem.tests) if known.id == test_id)
        return lambda sums: float(sums.onward[row, : len(slopes), number] @ slopes)

    def _by_mistake(self, number: int, test_id: str) -> Callable[[Sums], float]:
        test, outcomes = self.catalogue.tests[test_id], self.catalogue.tests[test_id].outcome_ids()
        slopes = [
            [
                (1 / len(outcomes) - stated_chance(test, self.catalogue.causes[cause], outcome)) / 100
                if cause in self.catalogue.causes else 0.0
                for cause in self.problem.causes
            ]
            for outcome in outcomes
        ]
        return lambda sums: float((sums.onward[number, : len(outcomes)] * slopes).sum())

    def _longer_part(self, cause: Cause, part: Correction | Proof | Advice) -> Callable[[float], Known]:
        def change(value: float) -> Known:
            if isinstance(part, Correction):
                return self._with_cause(replace(cause, correction=_longer(part, value)))
            if isinstance(part, Proof):
                return self._with_cause(replace(cause, proof=_longer(part, value)))
            return self._with_cause(replace(cause, advise=_longer(part, value)))

        return change

    def _with_share(self, cause: str, value: float) -> Known:
        return replace(self.tree, causes={**self.tree.causes, cause: value}), self.catalogue

    def _with_procedure(self, procedure: Procedure, value: float) -> Catalogue:
        changed = replace(procedure, minutes=value)
        return replace(self.catalogue, procedures={**self.catalogue.procedures, procedure.id: changed})

    def _with_opening(self, access: Access, value: float) -> Catalogue:
        return replace(self.catalogue, access={**self.catalogue.access, access.id: replace(access, open=value)})

    def _with_closing(self, access: Access, value: float) -> Catalogue:
        return replace(self.catalogue, access={**self.catalogue.access, access.id: replace(access, close=value)})

    def _with_test(self, test: Test) -> Known:
        return self.tree, replace(self.catalogue, tests={**self.catalogue.tests, test.id: test})

    def _with_cause(self, cause: Cause) -> Known:
        return self.tree, replace(self.catalogue, causes={**self.catalogue.causes, cause.id: cause})


class _Moves:
    """How often each opening, closing and procedure is done for each act, from each arrangement."""

    def __init__(self, costs: Costs) -> None:
        self.costs = costs
        self._counts: dict[str, tuple[Floats, Floats]] = {}
        self._places = 0

    def slope(self, of: str, sums: Sums) -> float:
        """Return what a minute more of one of them costs all cars; `of` as guesses name it."""
        if self._places != len(sums.acts):
            self._count(len(sums.acts))
        if of not in self._counts:
            return 0.0
        acts, fixed = self._counts[of]
        return self.costs.problem.money(float((sums.acts * acts).sum() + (sums.fixed * fixed).sum()))

    def _count(self, places: int) -> None:
        self._places, self._counts = places, {}
        problem, layout = self.costs.problem, self.costs.problem.layout
        tests, causes = len(problem.tests), len(problem.causes)
        for place, now in enumerate(self.costs.arrangements[:places]):
            for number, test in enumerate(problem.tests):
                self._add(layout.moves(now, test.need), (0, place, number))
            for work in problem.corrections:
                there, _ = problem.moved(now, work.need)
                proving, _ = problem.to_live(there)
                moves = layout.moves(now, work.need) + layout.moves(there, LIVE)
                self._add(moves, (0, place, tests + work.cause))
                self._add((*layout.end(proving), None), (1, place, work.cause))
            for act in (*(tests + causes + advice.cause for advice in problem.advices), tests + 2 * causes):
                self._add((*layout.end(now), None), (0, place, act))

    def _add(self, moves: Iterable[Moved | None], at: tuple[int, int, int]) -> None:
        import numpy as np

        problem = self.costs.problem
        tests, causes = len(problem.tests), len(problem.causes)
        which, *cell = at
        for moved in moves:
            of = HAND_BACK if moved is None else " ".join(filter(None, (moved.move, moved.access)))
            if of not in self._counts:
                empty = np.zeros((self._places, tests + 2 * causes + 1)), np.zeros((self._places, causes))
                self._counts[of] = empty
            self._counts[of][which][tuple(cell)] += 1


def _by_share(cause: int, sums: Sums) -> float:
    return float(sums.each[cause])


def _cars(act: int, sums: Sums) -> float:
    return float(sums.acts[:, act].sum())


def _longer(job: Job, minutes: float) -> Job:
    """Return a job that takes so many minutes, attended in the same proportion."""
    attended = None if job.attended is None else job.attended * minutes / job.minutes
    return replace(job, minutes=minutes, attended=attended)


def _dearer(work: Correction, price: float) -> Correction:
    return replace(work, parts=tuple(replace(part, price=part.price * price / work.price) for part in work.parts))
