"""What to do next in a case as it stands: every act with what the whole case is expected to cost after it.

Source: design of experiments by expected total cost (decision analysis), docs/meaning.md, "Next act".
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Protocol

from diagtree.knowledge.house import House
from diagtree.knowledge.words import Catalogue, Tree
from diagtree.reason.arrangement import START, Arrangement
from diagtree.reason.evidence import Answered, Belief, counted, posterior
from diagtree.reason.evidence_words import doubt_words
from diagtree.reason.first_advice import FirstAdvice
from diagtree.reason.next_words import after_words, why_words
from diagtree.reason.plan import Act, ActValue, Bounds, Solver, State, cheapest_first, start
from diagtree.reason.plan_costs import Step
from diagtree.reason.problem import Problem, compile_problem
from diagtree.records import dataclass

LEAST_MISTAKE = 5.0  # per cent; how far every answer is doubted once no cause can have given them all
LEAST_SAVED = 1.0  # money; a test that saves less is not worth a sentence
WORTH = 0.01  # share of the cost without it that a test must save to be told before an order
IDLE = 0.9  # share of a test's own price by which a case gets dearer where the test changes nothing to speak of
CLEARLY = 0.02  # share of the best act's cost by which another must be dearer, beyond what is unproven, to be told


@dataclass(frozen=True, slots=True)
class Present:
    """A case as it stands. `belief` is what the answers say; `state` carries it, one car in all.

    doubt : a clear word where the situation is impossible as the knowledge has it; "" otherwise.
    stuck : causes for which no act is left: tried already, and this house gives no cars to others.
    """

    problem: Problem
    state: State
    belief: Belief
    doubt: str = ""
    stuck: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Advised:
    """One act, and what it is worth now.

    expected_cost : of the whole case from now on, this act first and all going best afterwards; a policy that costs
                    this can be followed. at_least : no policy that begins with this act costs less.
    minutes, money : of this act alone, with what must be opened, closed, made safe or put back for it. [min]
    after : for a test, what each outcome would change.
    idle : for a test, whether it changes nothing to speak of as far as is known: the case gets dearer by its price.
    """

    kind: str
    id: str | None
    expected_cost: float
    at_least: float
    minutes: float
    money: float
    why: str
    after: tuple[After, ...] = ()
    idle: bool = False


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


class Valuer(Protocol):
    """Says what acts lead to: a `Solver`, or the `FirstAdvice` before it."""

    def step(self, state: State, act: Act) -> Step:
        """Return what `act` costs in `state`, for one car."""

    def after(self, state: State, act: Act) -> tuple[State, ...]:
        """Return the states that `act` may lead to."""

    def act(self, state: State) -> Act | None:
        """Return the act that comes first in `state`."""


def present(
    tree: Tree, catalogue: Catalogue, house: House, answered: Sequence[Answered], *,
    arrangement: Arrangement = START, struck: Iterable[str] = (), tried: Iterable[str] = (),
) -> Present:
    """Return a case as it stands.

    struck : causes whose correction was in vain. tried : causes whose correction may not be made (again) either.
    Where no cause at all can have given the answers, every answer is doubted a little, and `doubt` says so.
    Raises WrongUse where the house lacks a cost that the tree needs.
    """
    struck, tried = frozenset(struck), frozenset(tried)
    used = [answer.test for answer in counted(answered, catalogue)]
    belief = posterior(tree.causes, answered, catalogue, struck=struck)
    chances = belief.chances
    if belief.impossible:
        chances = posterior(tree.causes, answered, _doubted(catalogue), struck=struck).chances
    problem = compile_problem(tree, catalogue, house, weights=chances, without=used)
    first = start(problem, arrangement)
    gone = {number for number, cause in enumerate(problem.causes) if cause in struck | tried}
    now = replace(first, corrections_left=first.corrections_left - gone)
    stuck = FirstAdvice(problem).stuck(now)
    doubt = " ".join(filter(None, (doubt_words(belief), _stuck_words(stuck))))
    return Present(problem, now, belief, doubt, stuck)


def first_acts(
    case: Present, advice: FirstAdvice, *, out_of_time: Callable[[], bool] = lambda: True, explained: int = 1
) -> tuple[Advised, ...]:
    """Return the acts open to a case, cheapest first, before any search: at once, with wide limits.

    out_of_time : until it is true a second test is looked ahead. explained : for so many acts, cheapest first, the act
    after each outcome is found too.
    """
    if case.stuck:
        return ()
    if not case.state.total:
        return _only_refer(case, advice)
    values = advice.q_values(case.state, out_of_time)
    return _all_advised(case, advice, values, lambda state: advice.act(state), explained)


def next_acts(
    case: Present, solver: Solver, *, whole: Callable[[], bool] = lambda: True,
    bettered: Callable[[], bool] = lambda: True,
    out_of_time: Callable[[], bool] = lambda: False, too_late: Callable[[], bool] = lambda: False,
    advice: FirstAdvice | None = None,
) -> tuple[Advised, ...]:
    """Return the acts open to a case, cheapest first.

    whole : until it is true the search goes to the best strategy alone. Spread over all acts from the beginning, it
            gets deep with none of them.
    bettered : from then on until it is true, its policy is made better where it goes (`plan_rewrite`); what is found
               serves every act.
    out_of_time : asked while strategies are searched; once true, the values are bounds as good as found so far.
    too_late : once true, what follows an outcome is the first advice's word, not the search's.
    advice : where some was given before the search; its limits count wherever they are closer.
    """
    if case.stuck:
        return ()
    if not case.state.total:
        return _only_refer(case, solver)
    if not solver.value(case.state, whole).exact and not bettered():
        solver.improve(case.state, bettered)
    values = solver.q_values(case.state, out_of_time)
    quick = advice or FirstAdvice(case.problem)
    if any(not value.bounds.exact for value in values):
        values = _closest(values, quick.q_values(case.state))
    return _all_advised(
        case, solver, values, lambda state: quick.act(state) if too_late() else solver.act(state)
    )


def _closest(values: Sequence[ActValue], others: Sequence[ActValue]) -> tuple[ActValue, ...]:
    """Return the values with the closer of two proven limits each, cheapest first."""
    also = {value.act: value.bounds for value in others}
    found = []
    for value in values:
        other = also.get(value.act, value.bounds)
        upper = min(value.bounds.upper, other.upper)
        lower = min(max(value.bounds.lower, other.lower), upper)
        found.append(ActValue(value.act, Bounds(lower, upper)))
    return cheapest_first(found)


def before_order(acts: Sequence[Advised], case: Present, cause: str) -> Overturn | None:
    """Return the test whose value exceeds its price although `cause` was concluded; None where none is known to.

    acts : what `first_acts` or `next_acts` say of the case. The value of a test is what it saves against the best that
    can be done without it: correct, advise or refer now. What is saved is proven: limits count, not guesses.
    """
    test, least = _worth_doing(acts)
    concluded = _concluded(acts, cause)
    if test is None or concluded is None or least - test.expected_cost < _enough(least):
        return None
    parts = sum(work.price for work in case.problem.corrections if case.problem.causes[work.cause] == cause)
    sure = 100 * case.state.weights[case.problem.causes.index(cause)] / case.state.total
    saves = least - test.expected_cost
    saved = f"{saves:,.0f}" if saves >= 10 else f"{saves:.1f}"
    words = (
        f"{parts or concluded.money:,.0f} at {sure:.0f} %: `{test.id}` ({test.minutes:g} min) could overturn it and "
        f"saves {saved} on average"
    )
    return Overturn(test.id or "", test.minutes, saves, words)


def undecided(acts: Sequence[Advised], cause: str) -> bool:
    """Return whether the limits of `acts` leave open if a test is worth doing before `cause` is acted on."""
    test, least = _worth_doing(acts)
    if test is None or _concluded(acts, cause) is None or least - test.expected_cost >= _enough(least):
        return False
    without = min(act.expected_cost for act in acts if act.kind != "test")
    return any(act.kind == "test" and act.at_least <= without - _enough(without) for act in acts)


def _enough(cost: float) -> float:
    return max(LEAST_SAVED, WORTH * cost)


def _concluded(acts: Sequence[Advised], cause: str) -> Advised | None:
    return next((act for act in acts if act.id == cause and act.kind in ("correct", "advise")), None)


def _worth_doing(acts: Sequence[Advised]) -> tuple[Advised | None, float]:
    """Return the cheapest test, and what no other act can undercut."""
    others = [act.at_least for act in acts if act.kind != "test"]
    tests = [act for act in acts if act.kind == "test"]
    return (min(tests, key=lambda act: act.expected_cost), min(others)) if tests and others else (None, 0.0)


def clearly_dearer(acts: Sequence[Advised], kind: str, act_id: str | None, *, least: float = CLEARLY) -> Advised | None:
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


def _stuck_words(stuck: Sequence[str]) -> str:
    if not stuck:
        return ""
    return (
        f"No act is left for {', '.join(stuck)}: its correction was tried already, and this house gives no car to "
        "others. Check once more what was tried; or set a `referral:` in workshop.yaml and refer the car."
    )


def _only_refer(case: Present, valuer: Valuer) -> tuple[Advised, ...]:
    if case.problem.house.referral is None:
        return ()
    step = valuer.step(case.state, Act("refer"))
    return (Advised("refer", None, step.cost, step.cost, step.minutes, step.cost, case.doubt),)


def _all_advised(
    case: Present, valuer: Valuer, values: Sequence[ActValue], then: Callable[[State], Act | None], explained: int = 3
) -> tuple[Advised, ...]:
    idle = {value.act for value in values if _is_idle(case, valuer, value, values)}
    return tuple(
        _advised(
            case, valuer, value, [one for one in values if one.act not in idle or one is value],
            then if number < explained else lambda state: None, value.act in idle,  # noqa: ARG005
        )
        for number, value in enumerate(values)
    )


def _is_idle(case: Present, valuer: Valuer, value: ActValue, values: Sequence[ActValue]) -> bool:
    """Return whether a test only adds its price, or, being the best act, saves nothing to speak of."""
    if value.act.kind != "test":
        return False
    total, own = case.state.total, value.bounds.upper
    without = min((one.bounds.upper for one in values if one.act.kind != "test"), default=float("inf"))
    if value is values[0]:
        return without - own <= LEAST_SAVED * total
    return own - values[0].bounds.upper >= IDLE * valuer.step(case.state, value.act).cost * total


def _advised(
    case: Present, valuer: Valuer, value: ActValue, values: Sequence[ActValue],
    then: Callable[[State], Act | None], idle: bool,
) -> Advised:
    total, step = case.state.total, valuer.step(case.state, value.act)
    after = _after(case, valuer, value.act, then) if value.act.kind == "test" else ()
    chances = {c: weight / total for c, weight in zip(case.problem.causes, case.state.weights, strict=True)}
    why = why_words(value.act, chances, [(a.outcome, a.chance, a.posterior) for a in after], step, values, total)
    return Advised(
        value.act.kind, value.act.id, value.bounds.upper / total, value.bounds.lower / total, step.minutes, step.cost,
        why, after, idle,
    )


def _after(
    case: Present, valuer: Valuer, act: Act, onward: Callable[[State], Act | None]
) -> tuple[After, ...]:
    outcomes = next(test.outcomes for test in case.problem.tests if test.id == act.id)
    found = []
    for outcome, then in zip(outcomes, valuer.after(case.state, act), strict=True):
        if then.total:
            chances = {c: w / then.total for c, w in zip(case.problem.causes, then.weights, strict=True)}
            chance, act_then = then.total / case.state.total, onward(then)
            found.append(After(outcome, chance, chances, act_then, after_words(outcome, chance, chances, act_then)))
    return tuple(found)
