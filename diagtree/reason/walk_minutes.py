"""How long finding the cause will take in the bay, and what it will take up: summed over every way through the tree.

Exact: nothing is sampled, nothing left out. Minutes count as in `walk --json`: the tests that are still to be done, and
all that is opened, closed, made safe and re-energised for them, up to the ending; no correction, no putting back.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from diagtree.errors import WrongUse
from diagtree.knowledge.words import SOMETHING_ELSE, Catalogue, Ending, Qualification, Test, Tree
from diagtree.reason.arrangement import START, Arrangement, Layout, Move, minutes_of
from diagtree.reason.graph import branches, in_order
from diagtree.reason.problem import chance_of
from diagtree.records import dataclass

ACCESS, TOOL, WHO, SAFE = "access", "tool", "qualification", "make-safe"
"""What a way through the tree may take up."""

_MICRO = 6  # decimals that minutes are told apart by


@dataclass(frozen=True, slots=True)
class WalkMinutes:
    """Minutes in the bay up to the ending, over all cars that may stand behind the answers so far. [min]

    chances : minutes to chance, ascending; they sum to 1. takes : (kind, id) to the chance that it is needed at least
    once. endings : each ending to its chance.
    """

    chances: Mapping[float, float]
    takes: Mapping[tuple[str, str], float]
    endings: Mapping[Ending, float]

    @property
    def mean(self) -> float:
        """The mean. [min]"""
        return sum(minutes * chance for minutes, chance in self.chances.items())

    def within(self, share: float) -> float:
        """Return the minutes within which at least `share` of the cars are done. [min]"""
        total = 0.0
        for minutes, chance in self.chances.items():
            total += chance
            if total >= share - 1e-12:
                return minutes
        return max(self.chances, default=0.0)


@dataclass(frozen=True, slots=True)
class _Here:
    """A place in the tree, how the car stands, and what was taken up on the way."""

    arrangement: Arrangement
    taken: frozenset[tuple[str, str]]


_Weights = tuple[float, ...]  # one a cause


@dataclass(slots=True)
class _Cars:
    """Cars at one step: by how they stand, then by minutes so far, their weights cause by cause."""

    at: dict[_Here, dict[float, _Weights]] = field(default_factory=dict)

    def put(self, here: _Here, minutes: float, weights: _Weights) -> None:
        known = self.at.setdefault(here, {})
        key = round(minutes, _MICRO)
        before = known.get(key)
        known[key] = weights if before is None else tuple(map(sum, zip(before, weights, strict=True)))


def walk_minutes(
    tree: Tree, catalogue: Catalogue, chances: Mapping[str, float], step: str, answered: Mapping[str, str], *,
    arrangement: Arrangement = START,
) -> WalkMinutes:  # fmt: skip
    """Return the minutes of walking `tree` from `step` on.

    chances : of each cause, by the evidence so far. answered : tests done already, with the outcome that counts; a step
    that asks for one goes on by itself. Cost: ways through the tree that differ in what is open, times causes.
    Raises WrongUse where the tree leads round in a loop.
    """
    order, looping = in_order(tree, catalogue, step)
    if looping:
        raise WrongUse(f"tree `{tree.id}` leads round in a loop; `diagtree check` shows where")
    return _Sum(tree, catalogue, {cause: chance for cause, chance in chances.items() if chance > 0}).over(
        order, step, answered, arrangement
    )


class _Sum:
    def __init__(self, tree: Tree, catalogue: Catalogue, chances: Mapping[str, float]) -> None:
        self.tree, self.catalogue, self.layout = tree, catalogue, Layout.of(catalogue)
        self.start = tuple(chances.values())
        self.causes = [None if cause == SOMETHING_ELSE else catalogue.causes[cause] for cause in chances]
        self.found: dict[float, float] = {}
        self.takes: dict[tuple[str, str], float] = {}
        self.endings: dict[Ending, float] = {}

    def over(
        self, order: tuple[str, ...], step: str, answered: Mapping[str, str], arrangement: Arrangement
    ) -> WalkMinutes:
        cars = {name: _Cars() for name in order}
        cars[step].put(_Here(arrangement, frozenset()), 0.0, self.start)
        for name in order:
            test = self.catalogue.tests[self.tree.steps[name].test]
            targets = branches(self.tree.steps[name], test)
            known = answered.get(test.id)
            given = known is not None and known in targets
            shares = {known: (1.0,) * len(self.causes)} if given and known is not None else self._shares(test)
            for here, spread in cars[name].at.items():
                after, minutes = (here, 0.0) if given else self._done(test, here)
                for outcome, column in shares.items():
                    for before, weights in spread.items():
                        left = tuple(weight * share for weight, share in zip(weights, column, strict=True))
                        target = targets[outcome]
                        if isinstance(target, str):
                            cars[target].put(after, before + minutes, left)
                        else:
                            self._end(target, after, before + minutes, sum(left))
            cars[name].at.clear()
        return WalkMinutes(dict(sorted(self.found.items())), self.takes, self.endings)

    def _shares(self, test: Test) -> dict[str, _Weights]:
        return {
            outcome: tuple(chance_of(test, cause, outcome) for cause in self.causes) for outcome in test.outcome_ids()
        }

    def _done(self, test: Test, here: _Here) -> tuple[_Here, float]:
        """Return how the car stands after the test, and the minutes it took with all that had to be opened for it."""
        moves = self.layout.moves(here.arrangement, self.layout.need_of(test))
        taken = {(TOOL, tool) for tool in test.needs.tools}
        taken |= {(ACCESS, moved.access) for moved in moves if moved.move is Move.OPEN and moved.access}
        if test.qualification is not Qualification.NONE:
            taken.add((WHO, test.qualification.value))
        if any(moved.move is Move.MAKE_SAFE for moved in moves):
            taken.add((SAFE, ""))
        after = _Here(self.layout.after(here.arrangement, moves), here.taken | taken)
        return after, minutes_of(moves) + test.minutes

    def _end(self, ending: Ending, here: _Here, minutes: float, weight: float) -> None:
        if weight <= 0:
            return
        key = round(minutes, _MICRO)
        self.found[key] = self.found.get(key, 0.0) + weight
        self.endings[ending] = self.endings.get(ending, 0.0) + weight
        for one in here.taken:
            self.takes[one] = self.takes.get(one, 0.0) + weight
