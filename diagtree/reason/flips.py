"""How far a guess may be wrong before the first act changes, and what being wrong costs. By solving again."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import log

from diagtree.knowledge.words import Catalogue, Cause, House, Tree
from diagtree.reason.plan import Act, ActValue, Solver, State, start
from diagtree.reason.plan_state import never
from diagtree.reason.problem import compile_problem, planned_tests

FAR = 4.0  # a share, a time and a price are tried from a quarter to four times what is written
CONTENDERS = 4  # acts in front whose figures are tried before all others
CLOSE = 1e-3  # a flip is told to one part in a thousand of the range searched
ROUGH = 2e-2  # the same where strategies are not proven in the time for each: then the figure is no finer than that
CLEARLY = 1e-2  # share of a cost by which another act must be cheaper then: searches differ by less from each other


@dataclass(frozen=True, slots=True)
class Guess:
    """One figure of the knowledge: `share`, `shows` (per cent), `minutes` or `price`, of what, and its value."""

    kind: str
    of: str
    value: float
    low: float
    high: float
    change: Callable[[float], tuple[Tree, Catalogue]]


@dataclass(frozen=True, slots=True)
class Flip:
    """Where one guess changes the first act.

    at : the nearest value at which another act becomes first; `becomes` is that act.
    distance : how far that is, on a logarithmic scale (odds for per cents); small: the guess matters. [-]
    wrong : what it costs a car to begin as now although the true value lies at the end of the range searched, on the
            side of the flip.
    """

    kind: str
    of: str
    value: float
    at: float
    becomes: Act
    distance: float
    wrong: float


def guesses(tree: Tree, catalogue: Catalogue) -> Iterator[Guess]:
    """Give every share, per cent, time and price that the best strategy of `tree` rests on."""
    for listed, share in tree.causes.items():
        yield Guess("share", listed, share, share / FAR, share * FAR, _share(tree, catalogue, listed))
    for test_id in planned_tests(tree, catalogue):
        minutes = catalogue.tests[test_id].minutes
        longer = _test_minutes(tree, catalogue, test_id)
        yield Guess("minutes", test_id, minutes, minutes / FAR, minutes * FAR, longer)
    for cause_id in tree.causes:
        cause = catalogue.causes.get(cause_id)
        if cause is None:
            continue
        for test, shown in cause.shows.items():
            for outcome, percent in list(shown.items())[: 1 if len(shown) == 2 else None]:  # of two, one says both
                change = _shows(tree, catalogue, cause, test, outcome)
                yield Guess("shows", f"{cause_id}: {test} {outcome}", percent, 0.0, 100.0, change)
        if cause.correction is not None:
            minutes, price = cause.correction.minutes, cause.correction.price
            change = _correction_minutes(tree, catalogue, cause)
            yield Guess("minutes", f"correction of {cause_id}", minutes, minutes / FAR, minutes * FAR, change)
            if price > 0:
                yield Guess("price", cause_id, price, price / FAR, price * FAR, _price(tree, catalogue, cause))


def flips(
    tree: Tree, catalogue: Catalogue, house: House, *, out_of_time: Callable[[], bool] = lambda: False,
    each: Callable[[], tuple[Callable[[], bool], Callable[[], bool]]] = lambda: (never, never), most: int = 10,
) -> tuple[tuple[Flip, ...], int, int]:
    """Return the flips nearest to what is written, how many guesses were tried, and of how many.

    Every guess is changed alone. One that does not change the first act at either end of its range counts as tried and
    is left out (an act that comes and goes again inside the range is not looked for).

    The most promising come first, for where time does not allow all: the shares, then what the acts in front rest on.

    each : gives for every single solving until when the best strategy alone is searched, and until when every act;
           where time is out, the first act is that found so far, and only another that is clearly cheaper flips it.
    """
    first = _First(house, each)
    now, contenders = first.now(tree, catalogue)
    asked = sorted(guesses(tree, catalogue), key=lambda guess: _promise(guess, contenders))
    found, tried = [], 0
    for guess in asked:
        if out_of_time() or now is None:
            break
        found.extend(_flip(first, guess, now))
        tried += 1
    found.sort(key=lambda flip: (flip.distance, -flip.wrong, flip.kind, flip.of))
    return tuple(found[:most]), tried, len(asked)


class _First:
    """The first act of a changed knowledge, and what it costs to begin otherwise."""

    def __init__(self, house: House, each: Callable[[], tuple[Callable[[], bool], Callable[[], bool]]]) -> None:
        self.house = house
        self.each = each
        self.close = CLOSE
        self.late = never

    def now(self, tree: Tree, catalogue: Catalogue) -> tuple[Act | None, tuple[str, ...]]:
        """Return the first act as things are written, and the ids of the acts in front."""
        solver, state = self._searched((tree, catalogue))
        values = solver.q_values(state, self.late)
        self.close = CLOSE if values and values[0].bounds.exact else ROUGH
        return (_best(values) if values else None), tuple(value.act.id for value in values[:CONTENDERS] if value.act.id)

    def of(self, known: tuple[Tree, Catalogue], instead: Act) -> tuple[Act | None, float]:
        """Return the first act, and how much dearer a car gets by beginning with `instead`."""
        solver, state = self._searched(known)
        values = solver.q_values(state, self.late)
        if not values:
            return None, 0.0
        best, least = _best(values), values[0].bounds.upper
        own = next((value.bounds.upper for value in values if value.act == instead), None)
        if own is None:  # a test that parts nothing here: its price, and the best strategy after it
            after = solver.values(solver.after(state, instead), self.late)
            own = state.total * solver.step(state, instead).cost + sum(bounds.upper for bounds in after)
        if not values[0].bounds.exact and own <= least * (1 + CLEARLY):
            return instead, 0.0
        return best, max(own - least, 0.0) / state.total

    def _searched(self, known: tuple[Tree, Catalogue]) -> tuple[Solver, State]:
        problem = compile_problem(*known, self.house)
        solver, state = Solver(problem), start(problem)
        whole, self.late = self.each()
        solver.value(state, whole)
        return solver, state


def _best(values: Sequence[ActValue]) -> Act:
    """Return the cheapest act; of those that differ by float noise only, the first in the order of acts."""
    limit = values[0].bounds.upper
    equal = [value.act for value in values if value.bounds.upper <= limit + 1e-12 * abs(limit)]
    return min(equal, key=lambda act: act.rank)


def _promise(guess: Guess, contenders: Sequence[str]) -> int:
    """Return the place of a guess in the order of trying; 0 first."""
    if guess.kind == "share":
        return 0
    words = guess.of.replace(":", " ").split()
    return 1 if any(word in contenders for word in words) else 2


def _flip(first: _First, guess: Guess, now: Act) -> list[Flip]:
    ways = []
    for end in (guess.low, guess.high):
        becomes, wrong = first.of(guess.change(end), now)
        if becomes is None or becomes == now or end == guess.value:
            continue
        same, other = guess.value, end
        while abs(other - same) > first.close * (guess.high - guess.low):
            middle = (same + other) / 2
            act, _ = first.of(guess.change(middle), now)
            if act == now:
                same = middle
            else:
                other, becomes = middle, act or becomes
        distance = abs(_scale(guess, other) - _scale(guess, guess.value))
        ways.append(Flip(guess.kind, guess.of, guess.value, other, becomes, distance, wrong))
    return sorted(ways, key=lambda flip: flip.distance)[:1]


def _scale(guess: Guess, value: float) -> float:
    if guess.kind != "shows":
        return log(max(value, 1e-9))
    chance = min(max(value / 100, 1e-3), 1 - 1e-3)
    return log(chance / (1 - chance))


def _share(tree: Tree, catalogue: Catalogue, cause: str) -> Callable[[float], tuple[Tree, Catalogue]]:
    return lambda value: (replace(tree, causes={**tree.causes, cause: value}), catalogue)


def _test_minutes(tree: Tree, catalogue: Catalogue, test_id: str) -> Callable[[float], tuple[Tree, Catalogue]]:
    test = catalogue.tests[test_id]

    def change(value: float) -> tuple[Tree, Catalogue]:
        changed = replace(test, minutes=value, attended=_in_step(test.attended, test.minutes, value))
        return tree, replace(catalogue, tests={**catalogue.tests, test_id: changed})

    return change


def _correction_minutes(tree: Tree, catalogue: Catalogue, cause: Cause) -> Callable[[float], tuple[Tree, Catalogue]]:
    def change(value: float) -> tuple[Tree, Catalogue]:
        work = cause.correction
        assert work is not None  # only causes with a correction are asked
        changed = replace(work, minutes=value, attended=_in_step(work.attended, work.minutes, value))
        return tree, _with_cause(catalogue, replace(cause, correction=changed))

    return change


def _price(tree: Tree, catalogue: Catalogue, cause: Cause) -> Callable[[float], tuple[Tree, Catalogue]]:
    def change(value: float) -> tuple[Tree, Catalogue]:
        work = cause.correction
        assert work is not None  # only causes with a correction are asked
        parts = tuple(replace(part, price=part.price * value / work.price) for part in work.parts)
        return tree, _with_cause(catalogue, replace(cause, correction=replace(work, parts=parts)))

    return change


def _shows(
    tree: Tree, catalogue: Catalogue, cause: Cause, test: str, outcome: str
) -> Callable[[float], tuple[Tree, Catalogue]]:
    """Return the change of one per cent; the test's other outcomes share the rest as they did before."""

    def change(value: float) -> tuple[Tree, Catalogue]:
        shown = cause.shows[test]
        others = {key: percent for key, percent in shown.items() if key != outcome}
        whole = sum(others.values())
        spread: Mapping[str, float]
        if whole > 0:
            spread = {key: (100 - value) * percent / whole for key, percent in others.items()}
        else:
            rest = [key for key in catalogue.tests[test].outcome_ids() if key != outcome]
            spread = {key: (100 - value) / len(rest) for key in rest}  # one outcome only: nothing to spread
        return tree, _with_cause(catalogue, replace(cause, shows={**cause.shows, test: {**spread, outcome: value}}))

    return change


def _with_cause(catalogue: Catalogue, cause: Cause) -> Catalogue:
    return replace(catalogue, causes={**catalogue.causes, cause.id: cause})


def _in_step(attended: float | None, minutes: float, value: float) -> float | None:
    return None if attended is None else attended * (value / minutes if minutes else 1.0)
