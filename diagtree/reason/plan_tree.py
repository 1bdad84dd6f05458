"""A strategy as a tree: the same questions in the same order, shared where the rest is the same."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from itertools import count

from diagtree.errors import DiagtreeError
from diagtree.knowledge.place import Place
from diagtree.knowledge.words import Catalogue, Conclude, HandOver, Refer, Step, Target, Test, Tree
from diagtree.reason.plan import Act, Solver, State, start
from diagtree.reason.problem import stated_chance

REFER_TO = "somebody who knows this system better"
NOT_SHOWN = "somebody who knows this system better: no listed cause shows this"
_NOWHERE = Place("plan")


class TooLarge(DiagtreeError):
    """The policy has more situations than were asked for."""


def strategy_tree(
    solver: Solver, tree: Tree, catalogue: Catalogue, tree_id: str, *, rare: float = 0.0,
    out_of_time: Callable[[], bool] = lambda: False, most: int | None = None,
) -> Tree:
    """Return the solver's policy for `tree` as a tree called `tree_id`.

    A correction ends it, as in every tree: what follows where it was in vain is the best strategy from there.
    rare : a state that fewer than this share of cars reach ends with the cheapest ending instead of a further test.
    most : raises TooLarge where the policy has more situations than this.
    Tests with a stop outcome end there with the cheapest ending: a danger is never followed by a test.
    Where only mistakes can have led (the best act is to conclude a cause that does not show these answers), the car is
    handed over to `tree`, which costs the best strategy from there and lets people measure again.
    """
    first = start(solver.problem)
    drawn = _Drawing(solver, catalogue, rare * first.total, out_of_time, HandOver(tree.id), most)
    target = drawn.target(first, frozenset(solver.problem.causes), may_test=True)
    if not isinstance(target, str):
        # A tree begins with a step: the cheapest test of all, though no outcome changes what comes then.
        target = drawn.idle_step(first, target)
    steps = _named(drawn.steps, target)
    # Owners' words stay with the tree that people wrote: two trees that hear the same would both be meant.
    return replace(tree, id=tree_id, revision=1, hears=(), start=next(iter(steps)), steps=steps)


@dataclass(slots=True)
class _Drawing:
    solver: Solver
    catalogue: Catalogue
    least: float
    out_of_time: Callable[[], bool]
    contradicted: HandOver
    most: int | None
    met: int = 0
    steps: dict[str, tuple[str, Mapping[str, Target]]] = field(default_factory=dict)
    known: dict[tuple[str, tuple[tuple[str, Target], ...]], str] = field(default_factory=dict)

    def target(self, state: State, allowed: frozenset[str], *, may_test: bool) -> Target:
        """Return what the policy does from `state`: a step, built if there is none like it, or an ending.

        allowed : the causes that show every answer on this way.
        """
        if not state.total:
            return Refer(NOT_SHOWN)
        self.met += 1
        if self.most is not None and self.met > self.most:
            raise TooLarge
        self.solver.value(state, self.out_of_time)
        act = self.solver.act(state)
        if act is None or (act.kind == "test" and (not may_test or state.total < self.least)):
            act = self._ending(state)
        if act is None or act.kind == "refer":
            return Refer(REFER_TO)
        if act.kind != "test":
            return self._concluded(act.id or "", allowed, danger=not may_test)
        test = self.catalogue.tests[act.id or ""]
        return self._step(test.id, {
            outcome: self.target(after, self._showing(test, outcome, allowed), may_test=outcome not in test.stop)
            for outcome, after in zip(test.outcome_ids(), self.solver.after(state, act), strict=True)
        })

    def idle_step(self, state: State, ending: Target) -> str:
        """Return a step with the cheapest test of all, every outcome of which leads to `ending`."""
        every = frozenset(self.solver.problem.causes)
        tests = self.solver.problem.tests
        cheapest = min(tests, key=lambda test: (self.solver.step(state, Act("test", test.id)).cost, test.id))
        test = self.catalogue.tests[cheapest.id]
        return self._step(test.id, {
            outcome: self._concluded(ending.cause, self._showing(test, outcome, every), danger=outcome in test.stop)
            if isinstance(ending, Conclude) else ending
            for outcome in test.outcome_ids()
        })

    def _concluded(self, cause: str, allowed: frozenset[str], *, danger: bool) -> Target:
        if cause in allowed:
            return Conclude(cause)
        return Refer(NOT_SHOWN) if danger else self.contradicted

    def _showing(self, test: Test, outcome: str, causes: frozenset[str]) -> frozenset[str]:
        """Return those of `causes` that show `outcome`, mistakes left out."""
        known = self.catalogue.causes
        return frozenset(c for c in causes if c in known and stated_chance(test, known[c], outcome) > 0)

    def _ending(self, state: State) -> Act | None:
        values = self.solver.q_values(state, self.out_of_time)
        return next((value.act for value in values if value.act.kind != "test"), None)

    def _step(self, test: str, then: Mapping[str, Target]) -> str:
        key = (test, tuple(then.items()))
        if key not in self.known:
            self.known[key] = f"{len(self.steps)}"
            self.steps[self.known[key]] = (test, then)
        return self.known[key]


def _named(steps: Mapping[str, tuple[str, Mapping[str, Target]]], first: str) -> dict[str, Step]:
    """Return the steps under their tests' names, `-2`, `-3` added where a test is done in several places."""
    order: dict[str, str] = {}
    waiting, names = [first], set[str]()
    while waiting:  # outcome by outcome from the start, as a reader goes
        step = waiting.pop(0)
        if step not in order:
            test, then = steps[step]
            free = (name for number in count(1) if (name := test if number == 1 else f"{test}-{number}") not in names)
            order[step] = next(free)  # a test's own id may end in a number too
            names.add(order[step])
            waiting.extend(target for target in then.values() if isinstance(target, str))
    named = {}
    for step, name in order.items():
        test, then = steps[step]
        led = {outcome: order[target] if isinstance(target, str) else target for outcome, target in then.items()}
        named[name] = Step(name, test, led, {}, _NOWHERE)
    return named
