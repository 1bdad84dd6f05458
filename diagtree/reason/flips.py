"""How far a guess may be wrong before the first act changes, and what being wrong costs.

First every guess is looked through at once: good policies are kept, several for each first act, and what a fixed policy
costs is linear in every guess (`written_costs`), so that where another first act gets cheaper is a crossing of lines.
Then those that matter most are solved again with the guess changed, which brings better policies and moves the
crossings. Where strategies can be proven, that is exact: the least cost is concave in every guess and made of such
lines, so it is followed from crossing to crossing (Eisner and Severance 1976).
"""

from __future__ import annotations

from collections.abc import Callable
from math import inf, isnan, log
from typing import TYPE_CHECKING

from diagtree.knowledge.house import House
from diagtree.knowledge.words import Catalogue, Tree
from diagtree.reason.guesses import Guess, guesses
from diagtree.reason.plan import Act, Solver, State, start
from diagtree.reason.plan_state import never
from diagtree.reason.problem import compile_problem
from diagtree.records import dataclass

if TYPE_CHECKING:
    from diagtree.reason.flip_lines import Lines
    from diagtree.reason.plan_arrays import Floats
    from diagtree.reason.plan_written import Writer
    from diagtree.reason.written_costs import Costing

NOISE = 1e-9  # relative
PART = 0.1  # of a guess, by which it is higher for `Weight`
HEAVIEST = 10
DEEPEST = 40  # crossings that are followed, at the most
MATTERS = 1e-5  # share of the cost; where strategies are not proven, what costs less when it is wrong is no flip


@dataclass(frozen=True, slots=True)
class Flip:
    """Where one guess changes the first act.

    at : the nearest value at which another act becomes first; `becomes` is that act.
    distance : how far that is, on a logarithmic scale (odds for per cents). [-]
    wrong : what it costs a car to begin as now although the true value lies at the end of the range searched, on the
            side of the flip; where the present act is the best again at that end, the most it costs before.
    again : whether it was solved again with the guess changed; else the crossing is that of the policies known.
    gap : what is not proven then, as a fraction of the cost; 0 where the flip is exact. [-]
    """

    kind: str
    of: str
    value: float
    at: float
    becomes: Act
    distance: float
    wrong: float
    again: bool
    gap: float


@dataclass(frozen=True, slots=True)
class Weight:
    """A guess that the cost hangs on: `more` is what a car costs more where it is a tenth higher, all else the same."""

    kind: str
    of: str
    value: float
    more: float


@dataclass(frozen=True, slots=True)
class Flips:
    """The flips that matter most, dearest first, and the first act now.

    heaviest : the guesses that the cost of the strategy hangs on most. of : how many guesses were looked through.
    solved : how many of them were solved again with other values.
    """

    found: tuple[Flip, ...]
    now: Act | None
    heaviest: tuple[Weight, ...]
    of: int
    solved: int


def flips(
    tree: Tree, catalogue: Catalogue, house: House, *, solver: Solver | None = None,
    out_of_time: Callable[[], bool] = never, each: Callable[[], Callable[[], bool]] = lambda: never,
    most: int | None = 10,
) -> Flips:
    """Return the flips that cost most when the guess is wrong; every guess is changed alone.

    solver : one that knows a good strategy from the start already.
    each : gives for every single solving until when it may go on; where that is too short to prove strategies, what is
           found rests on the policies that were, and `gap` says what is open.
    most : so many flips; None for all, and with all the time there is every one is exact then.
    """
    solver = solver or Solver(compile_problem(tree, catalogue, house))
    state = start(solver.problem)
    if not state.total:
        return Flips((), None, (), 0, 0)
    return _Flipping(tree, catalogue, solver, each, out_of_time).flips(most)


class _Flipping:
    def __init__(
        self, tree: Tree, catalogue: Catalogue, solver: Solver, each: Callable[[], Callable[[], bool]],
        out_of_time: Callable[[], bool],
    ) -> None:
        import numpy as np

        from diagtree.reason.flip_lines import Lines
        from diagtree.reason.plan_written import Writer
        from diagtree.reason.written_costs import Costing

        self.each = each
        self.out_of_time = out_of_time
        self.house = solver.problem.house
        state = start(solver.problem)
        solver.solve(state, each())
        self.exact = solver.known(state).exact
        board, _ = solver.at(state)
        self.acts = board.acts
        self.number = {act: number for number, act in enumerate(board.acts)}
        self.writer: Writer = Writer(board.arrays, forced=True)
        self.costing: Costing = Costing(board.arrays)
        self.asked: list[Guess] = list(guesses(tree, catalogue, board.arrays.costs))
        self.values = np.array([guess.value for guess in self.asked])
        self.lines: Lines = Lines(self.asked)
        self.now = self._begin(solver, state)
        self.gaps: dict[int, float] = {}

    def flips(self, most: int | None) -> Flips:
        import numpy as np

        sides = [np.array([guess.low for guess in self.asked]), np.array([guess.high for guess in self.asked])]
        wanted = len(self.asked) if most is None else most
        solved: set[int] = set()
        while not self.out_of_time():
            # Every solving brings policies that may move other crossings: the order is drawn up anew each time.
            todo = [guess for guess in self._ranked(sides)[:wanted] if guess not in solved]
            if not todo:
                break
            self._solve_again(todo[0], sides)
            solved.add(todo[0])
            if not self.exact:  # what was found for a changed guess may be the best as things are, too
                self.now = int(self.lines.act[self.lines.cost.argmin()])
        named = self._named(sides, solved)
        named.sort(key=lambda flip: (-flip.wrong, flip.distance, flip.kind, flip.of))
        return Flips(tuple(named[:wanted]), self.acts[self.now], self._heaviest(), len(self.asked), len(solved))

    def _heaviest(self) -> tuple[Weight, ...]:
        """Return the guesses that the cost hangs on most."""
        best = int(self.lines.cost.argmin())
        total = float(self.costing.weights.sum())
        found = []
        for number, guess in enumerate(self.asked):
            if guess.kind in ("shows", "mistake") and guess.value * (1 + PART) > 100:
                continue
            slope = float(self.lines.slope[best, number])
            if guess.kind == "share":  # more cars with this cause, each counting for less
                slope -= float(self.lines.cost[best]) / total
            found.append(Weight(guess.kind, guess.of, guess.value, PART * guess.value * slope / total))
        found.sort(key=lambda weight: (-abs(weight.more), weight.kind, weight.of))
        return tuple(found[:HEAVIEST])

    def _named(self, sides: list[Floats], solved: set[int]) -> list[Flip]:
        import numpy as np

        least = (NOISE if self.exact else MATTERS) * abs(float(self.lines.cost.min()))
        found: dict[int, list[Flip]] = {}
        for ends in sides:
            nearest, wrong = self.lines.nearest(self.now, ends), self.lines.wrong(self.now, ends)
            for guess in np.nonzero(~np.isnan(nearest) & (wrong > least))[0].tolist():
                at, end, loses = (float(some[guess]) for some in (nearest, ends, wrong))
                found.setdefault(guess, []).append(self._flip(guess, at, end, loses, guess in solved))
        return [max(ways, key=lambda flip: (flip.wrong, -flip.distance)) for ways in found.values()]

    def _begin(self, solver: Solver, state: State) -> int:
        """Keep good policies for every first act; return the number of the best act."""
        import numpy as np

        if self.exact:
            values = solver.q_values(state)
            least = values[0].bounds.upper
            equal = [value.act for value in values if value.bounds.upper <= least + 1e-12 * abs(least)]
            for value in values:
                self._add(value.act, self._written(solver, state, value.act))
            return self.number[min(equal, key=lambda act: act.rank)]
        board, node = solver.at(state)
        now = self.number[solver.act(state) or Act("refer")]
        root = self.writer.copy(board, np.array([node]))[0]
        self._add(self.acts[now], root)
        for act, own in board.first_steps(node):
            self._add(self.acts[act], self.writer.adopted(board.bank.writer, own))
        place = self.writer.place[root]
        for act in range(len(self.acts)):
            moved = self._moved_first(act, root, place)
            if moved is not None:
                self._add(self.acts[act], moved)
        return int(self.lines.act[self.lines.cost.argmin()])

    def _moved_first(self, act: int, root: int, place: int) -> int | None:
        """Return the policy that does `act` first and then what `root` does, what is known by then left out."""
        arrays, writer = self.writer.arrays, self.writer
        if act < arrays.tests:
            there = int(arrays.test_next[place, act])
            outcomes = range(arrays.outcomes[act])
            return writer.node(act, place, tuple(writer.elsewhere(root, there, {act: shown}) for shown in outcomes))
        cause = act - arrays.tests
        if cause < arrays.causes:
            if not arrays.correctable[cause]:
                return None
            there = int(arrays.correct_next[place, cause])
            return writer.node(act, place, (writer.elsewhere(root, there, {}, frozenset({cause})),))
        return None if cause < 2 * arrays.causes and arrays.advise[place, cause - arrays.causes] == float("inf") else (
            None if cause >= 2 * arrays.causes and arrays.refer[place] == float("inf") else writer.node(act, place)
        )

    def _add(self, act: Act, node: int) -> None:
        self.lines.add(self.number[act], node, self.costing.sums(self.writer.written(node)))

    def _written(self, solver: Solver, state: State, act: Act) -> int:
        """Return the policy that begins with `act` and goes on as `solver` knows best."""
        import numpy as np

        afters = solver.after(state, act)
        solver.values(afters)
        children = []
        for after in afters:
            if after.total:
                board, node = solver.at(after)
                children.append(self.writer.copy(board, np.array([node]))[0])
            else:
                children.append(-1)
        return self.writer.node(self.number[act], self.writer.place_of(state.arrangement), tuple(children))

    def _ranked(self, sides: list[Floats]) -> list[int]:
        """Return the guesses, those first that cost most where they are wrong, or come nearest to that."""
        import numpy as np

        lost = [np.where(ends != self.values, self.lines.wrong(self.now, ends), -np.inf) for ends in sides]
        return [int(guess) for guess in np.argsort(-np.maximum(*lost), kind="stable")]

    def _solve_again(self, guess: int, sides: list[Floats]) -> None:
        value = self.asked[guess].value
        if self.exact:
            for ends in sides:
                if ends[guess] != value:
                    self._solved(guess, float(ends[guess]))
                    self._follow(guess, value, float(ends[guess]), DEEPEST)
            return
        ends = max(sides, key=lambda ends: self.lines.wrong(self.now, ends)[guess] if ends[guess] != value else -inf)
        self._solved(guess, float(ends[guess]))
        at = self._nearest(guess, ends)
        if not isnan(at) and not self.out_of_time():
            self._solved(guess, at)

    def _nearest(self, guess: int, ends: Floats) -> float:
        return float(self.lines.nearest(self.now, ends, slice(guess, guess + 1))[0])

    def _follow(self, guess: int, near: float, far: float, deepest: int) -> bool:
        """Follow the least cost from `near`, where the act is the best, to `far`; return whether it stops to be.

        At both ends the best policies are known, and at each crossing they are asked for.
        """
        lines, own = self.lines, self.lines.act == self.now
        one = lines.cheapest(guess, near, own, towards=far)
        costs = lines.at(guess, far)
        noise = NOISE * abs(costs.min())
        if costs[one] <= costs.min() + noise or not deepest:
            return False  # the best at both ends, hence everywhere between: the least cost is concave
        stays = bool(costs[own].min() <= costs.min() + noise)
        other = lines.cheapest(guess, far, own if stays else None)
        at = lines.crossing(guess, one, other)
        if not min(near, far) <= at <= max(near, far):
            return not stays
        self._solved(guess, at)
        costs, own = lines.at(guess, at), lines.act == self.now
        noise = NOISE * abs(costs.min())
        if costs[one] <= costs.min() + noise:
            return not stays
        if costs[own].min() <= costs.min() + noise:
            return self._follow(guess, near, at, deepest - 1) or self._follow(guess, at, far, deepest - 1)
        return self._follow(guess, near, at, deepest - 1)

    def _solved(self, number: int, value: float) -> None:
        """Solve again with a guess changed, and keep the policies found: the best, and the best that begins as now."""
        guess, late = self.asked[number], self.each()
        problem = compile_problem(*guess.change(value), self.house)
        solver, state = Solver(problem), start(problem)
        if self.exact:
            values = solver.q_values(state, late)
            first = min(values, key=lambda value: (value.bounds.upper, value.act.rank)).act
            for act in {first, self.acts[self.now]}:
                self._add(act, self._written(solver, state, act))
        else:
            self._bettered(number, value, solver, state, late)
        bounds = solver.known(state)
        gap = (bounds.upper - bounds.lower) / bounds.upper if bounds.upper else 0.0
        self.gaps[number] = max(self.gaps.get(number, 0.0), gap if not bounds.exact else 0.0)

    def _bettered(
        self, number: int, value: float, solver: Solver, state: State, late: Callable[[], bool]
    ) -> None:
        """Better the best known policies point by point on the changed figures, and keep what came of it."""
        board, node = solver.at(state)
        own = self.lines.act == self.now
        best = [self.lines.cheapest(number, value, among) for among in (own, ~own)]
        guides = [board.bank.writer.adopted(self.writer, int(self.lines.node[one])) for one in best]
        board.improve(node, late, guides)
        found = board.first_steps(node)
        costs = {act: board.cost_of(node, first) for act, first in found}
        keep = {min((act for act in costs if act != self.now), key=lambda act: costs[act]), self.now}
        for act, first in found:
            if act in keep:
                self._add(self.acts[act], self.writer.adopted(board.bank.writer, first))

    def _flip(self, number: int, at: float, end: float, wrong: float, again: bool) -> Flip:
        guess = self.asked[number]
        beyond = self.lines.at(number, at + 1e-3 * (end - at))
        equal = beyond <= beyond.min() + NOISE * abs(beyond.min())
        becomes = min((self.acts[act] for act in self.lines.act[equal].tolist()), key=lambda act: act.rank)
        cars = float(self.costing.weights.sum()) + (end - guess.value if guess.kind == "share" else 0.0)
        distance = abs(_scale(guess, at) - _scale(guess, guess.value))
        gap = self.gaps.get(number, 0.0)
        return Flip(guess.kind, guess.of, guess.value, at, becomes, distance, wrong / cars, again, gap)


def _scale(guess: Guess, value: float) -> float:
    if guess.kind not in ("shows", "mistake"):
        return log(max(value, 1e-9))
    chance = min(max(value / 100, 1e-3), 1 - 1e-3)
    return log(chance / (1 - chance))
