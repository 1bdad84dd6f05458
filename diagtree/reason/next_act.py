"""What to do next in a case as it stands: every act with what the whole case is expected to cost after it.

Source: design of experiments by expected total cost (decision analysis), docs/meaning.md, "Next best act".
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from diagtree.knowledge.words import SOMETHING_ELSE, Catalogue, House, Tree
from diagtree.reason.arrangement import START, Arrangement, minutes_of
from diagtree.reason.evidence import Answered, Belief, counted, posterior
from diagtree.reason.next_words import after_words, why_words
from diagtree.reason.plan import Act, ActValue, Solver, State, start
from diagtree.reason.problem import Problem, compile_problem

LEAST_MISTAKE = 5.0  # per cent; how far every answer is doubted once no cause can have given them all


@dataclass(frozen=True, slots=True)
class Present:
    """A case as it stands. `belief` is what the answers say; `state` carries it, one car in all.

    doubt : a clear word where the situation is impossible as the knowledge has it; "" otherwise.
    """

    problem: Problem
    state: State
    belief: Belief
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class Advised:
    """One act, and what it is worth now.

    expected_cost : of the whole case from now on, this act first and all going best afterwards; a policy that costs
                    this can be followed. at_least : no policy that begins with this act costs less.
    minutes, money : of this act alone, with what must be opened, closed, made safe or put back for it. [min]
    after : for a test, what each outcome would change.
    """

    kind: str
    id: str | None
    expected_cost: float
    at_least: float
    minutes: float
    money: float
    why: str
    after: tuple[After, ...] = ()


@dataclass(frozen=True, slots=True)
class After:
    """What one outcome of a test would change: its chance, the causes after it, and the best act then (if asked)."""

    outcome: str
    chance: float
    posterior: Mapping[str, float]
    then: Act | None
    words: str


@dataclass(frozen=True, slots=True)
class Overturn:
    """A test worth doing before a correction although the tree has concluded: what it takes and what it saves."""

    test: str
    minutes: float
    saves: float
    words: str


@dataclass(frozen=True, slots=True)
class Shared:
    """A test that shares an access which stands open: what it costs now, and after all has been put back."""

    test: str
    now: float
    later: float


def present(
    tree: Tree, catalogue: Catalogue, house: House, answered: Sequence[Answered], *,
    arrangement: Arrangement = START, struck: Iterable[str] = (), tried: Iterable[str] = (),
) -> Present:
    """Return a case as it stands.

    struck : causes whose correction was in vain. tried : causes whose correction may not be made (again) either.
    Where no cause at all can have given the answers, every answer is doubted a little, and `doubt` says so.
    """
    struck, tried = frozenset(struck), frozenset(tried)
    used = [answer.test for answer in counted(answered, catalogue)]
    belief, doubt = posterior(tree.causes, answered, catalogue, struck=struck), ""
    chances = belief.chances
    if belief.impossible:
        chances = posterior(tree.causes, answered, _doubted(catalogue), struck=struck).chances
        doubt = (
            f"No cause of this tree can have given these answers together ({', '.join(belief.conflict)}). "
            "Measure again what is easiest to repeat; until then every answer is taken with doubt."
        ) if any(chances.values()) else (
            "Every cause of this tree has been struck out. What is left is to refer the car, or to look for a cause "
            "that the tree does not list."
        )
    elif belief.conflict and not _only_something_else(chances):
        doubt = f"No listed cause allows these answers together ({', '.join(belief.conflict)}); measure one again."
    problem = compile_problem(tree, catalogue, house, weights=chances, without=used)
    first = start(problem, arrangement)
    gone = {number for number, cause in enumerate(problem.causes) if cause in struck | tried}
    return Present(problem, replace(first, corrections_left=first.corrections_left - gone), belief, doubt)


def next_acts(
    case: Present, solver: Solver, *, out_of_time: Callable[[], bool] = lambda: False, explained: int = 3
) -> tuple[Advised, ...]:
    """Return the acts open to a case, cheapest first.

    out_of_time : asked while strategies are searched; once true, the values are bounds as good as found so far.
    explained : for so many tests the best act after each outcome is found too.
    """
    if not case.state.total:
        return _only_refer(case, solver)
    values = solver.q_values(case.state, out_of_time)
    return tuple(
        _advised(case, solver, value, values, number < explained) for number, value in enumerate(values)
    )


def before_order(case: Present, solver: Solver, cause: str, *, out_of_time: Callable[[], bool] = lambda: False
                 ) -> Overturn | None:
    """Return the test whose value exceeds its price although `cause` was concluded; None where none does."""
    values = {value.act: value.bounds for value in solver.q_values(case.state, out_of_time)}
    concluded = values.get(Act("correct", cause), values.get(Act("advise", cause)))
    tests = [(bounds.upper, act) for act, bounds in values.items() if act.kind == "test"]
    if concluded is None or not tests:
        return None
    cost, act = min(tests, key=lambda item: (item[0], item[1].rank))
    saves = (concluded.lower - cost) / case.state.total  # proven: against the lower bound of going on at once
    if saves <= 1e-9 * abs(cost):
        return None
    minutes = solver.step(case.state, act).minutes
    price = sum(work.price for work in case.problem.corrections if case.problem.causes[work.cause] == cause)
    sure = 100 * case.state.weights[case.problem.causes.index(cause)] / case.state.total
    words = (
        f"{price:,.0f} at {sure:.0f} %: `{act.id}` ({minutes:g} min) could overturn it and saves "
        f"{saves:,.0f} on average"
    )
    return Overturn(act.id or "", minutes, saves, words)


def sharing(case: Present, tree_tests: Iterable[str] | None = None) -> tuple[Shared, ...]:
    """Return the tests left that use an access which stands open, with their cost now and from a closed, live car.

    tree_tests : only these tests, if given. Dearest to put off first.
    """
    problem, now = case.problem, case.state.arrangement
    wanted = None if tree_tests is None else frozenset(tree_tests)
    found = []
    for number in case.state.tests_left:
        test = problem.tests[number]
        if not test.need.open & now.open or (wanted is not None and test.id not in wanted):
            continue
        costs = [
            problem.money(minutes_of(problem.layout.moves(there, test.need)) + test.labour) for there in (now, START)
        ]
        if costs[0] < costs[1]:
            found.append(Shared(test.id, costs[0], costs[1]))
    return tuple(sorted(found, key=lambda shared: (shared.now - shared.later, shared.test)))


def clearly_dearer(acts: Sequence[Advised], kind: str, act_id: str | None, *, least: float = 0.02) -> Advised | None:
    """Return the best act where the act named is clearly dearer than it (by proven bounds); None otherwise.

    least : share of the best act's cost by which it must be dearer. [-]
    """
    best = acts[0] if acts else None
    named = next((act for act in acts if (act.kind, act.id) == (kind, act_id)), None)
    if best is None or named is None or named.at_least <= best.expected_cost * (1 + least):
        return None
    return best


def _doubted(catalogue: Catalogue) -> Catalogue:
    tests = {
        test.id: replace(test, mistake=max(test.mistake, LEAST_MISTAKE)) for test in catalogue.tests.values()
    }
    return replace(catalogue, tests=tests)


def _only_something_else(chances: Mapping[str, float]) -> bool:
    return all(cause == SOMETHING_ELSE for cause, chance in chances.items() if chance > 0)


def _only_refer(case: Present, solver: Solver) -> tuple[Advised, ...]:
    if case.problem.house.referral is None:
        return ()
    step = solver.step(case.state, Act("refer"))
    return (Advised("refer", None, step.cost, step.cost, step.minutes, step.cost, case.doubt),)


def _advised(
    case: Present, solver: Solver, value: ActValue, values: Sequence[ActValue], explained: bool
) -> Advised:
    total, step = case.state.total, solver.step(case.state, value.act)
    after = _after(case, solver, value.act, explained) if value.act.kind == "test" else ()
    chances = {c: weight / total for c, weight in zip(case.problem.causes, case.state.weights, strict=True)}
    why = why_words(value.act, chances, [(a.outcome, a.chance, a.posterior) for a in after], step, values, total)
    return Advised(
        value.act.kind, value.act.id, value.bounds.upper / total, value.bounds.lower / total, step.minutes, step.cost,
        why, after,
    )


def _after(case: Present, solver: Solver, act: Act, explained: bool) -> tuple[After, ...]:
    outcomes = next(test.outcomes for test in case.problem.tests if test.id == act.id)
    found = []
    for outcome, then in zip(outcomes, solver.after(case.state, act), strict=True):
        if then.total:
            chances = {c: w / then.total for c, w in zip(case.problem.causes, then.weights, strict=True)}
            onward = solver.act(then) if explained else None
            chance = then.total / case.state.total
            found.append(After(outcome, chance, chances, onward, after_words(outcome, chance, chances, onward)))
    return tuple(found)
