"""Which causes can come to which step: for rules that speak of all paths without listing one of them.

Every listed cause is one bit. A step's bits are those of the causes that come there by answers which the cause allows
(a stated per cent above 0; `not-done` is allowed by all). They flow along the branches from step to step, each step
once, so the work grows with the tree and not with its paths. On a loop they flow until nothing is added. A test that
comes twice on a path counts as two tests here: `test-repeated` tells that mistake.

Source: forward data-flow analysis over bit vectors (Kildall, A unified approach to global program optimization, 1973).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from copy import copy
from functools import cache, cached_property

from diagtree.knowledge.words import NOT_DONE, SOMETHING_ELSE, Catalogue, Target, Test, Tree
from diagtree.reason.graph import branches

MOST_PAIRED = 128
"""Causes up to which pairs of them are followed: a step then carries up to 2 kB."""


class Flow:
    """One tree on one car as a graph of its reached steps, with the causes that come to each.

    causes : the listed causes without `something-else`, in the order of the list; cause number n is the bit 1 << n.
    branches : reached step to outcome to target. order : the reached steps, each before its followers, loops apart.
    """

    def __init__(self, tree: Tree, catalogue: Catalogue, like: Flow | None = None) -> None:
        """`tree` may have any mistake, but each step's test must be in `catalogue`.

        like : the same tree's flow on another car where all tests have the same outcomes.
        """
        self.tree, self.catalogue = tree, catalogue
        self.causes = tuple(c for c in tree.causes if c != SOMETHING_ELSE and c in catalogue.causes)
        self.everything = (1 << len(self.causes)) - 1
        self.branches: dict[str, Mapping[str, Target]] = like.branches if like else {}
        self.order: tuple[str, ...] = like.order if like else self._order()
        self._allowed: dict[str, dict[str, int]] = {}
        self._alike: dict[str, int] = {}  # the same on all cars, but for the tests that are apart
        self._own_alike: dict[str, int] = {}
        self._apart: frozenset[str] = frozenset()

    def on(self, catalogue: Catalogue) -> Flow:
        """Return the same on another car, where tests have the same outcomes and causes allow the same."""
        _ = self.alive, self.pairs  # computed once, for all
        other = copy(self)
        other.catalogue = catalogue
        other.__dict__.pop("_shown", None)
        other._own_alike = {}
        other._apart = frozenset(test for cause in self.causes for test in self._differ(cause, catalogue))
        return other

    def _differ(self, cause: str, catalogue: Catalogue) -> Iterator[str]:
        """Yield the tests of which a cause shows other per cents there."""
        here, there = self.catalogue.causes[cause].shows, catalogue.causes[cause].shows
        if here is not there:
            yield from (test for test in {**here, **there} if here.get(test) != there.get(test))

    def _order(self) -> tuple[str, ...]:
        """Return the reached steps in reverse order of leaving them in a search in depth, without recursion."""
        left: list[str] = []
        stack: list[tuple[str, Iterator[Target]]] = []

        def enter(step_id: str) -> None:
            step = self.tree.steps[step_id]
            self.branches[step_id] = branches(step, self.catalogue.tests[step.test])
            stack.append((step_id, iter(self.branches[step_id].values())))

        if self.tree.start in self.tree.steps:
            enter(self.tree.start)
        while stack:
            step_id, targets = stack[-1]
            ahead = next((one for one in targets if self._is_new(one)), None)
            if ahead is None:
                left.append(step_id)
                stack.pop()
            else:
                assert isinstance(ahead, str)
                enter(ahead)
        return tuple(reversed(left))

    def _is_new(self, target: Target) -> bool:
        return isinstance(target, str) and target in self.tree.steps and target not in self.branches

    def onward(self, step_id: str) -> tuple[tuple[str, str], ...]:
        """Return each outcome of a reached step that leads to another step, with that step."""
        return self._onward[step_id]

    @cached_property
    def _onward(self) -> Mapping[str, tuple[tuple[str, str], ...]]:
        return {
            step_id: tuple(
                (outcome, target)
                for outcome, target in leads.items()
                if isinstance(target, str) and target in self.branches
            )
            for step_id, leads in self.branches.items()
        }

    @cached_property
    def before(self) -> Mapping[str, tuple[tuple[str, str], ...]]:
        """Each reached step with the steps and outcomes that lead to it."""
        found: dict[str, list[tuple[str, str]]] = {step_id: [] for step_id in self.order}
        for step_id in self.order:
            for outcome, target in self.onward(step_id):
                found[target].append((step_id, outcome))
        return {step_id: tuple(answers) for step_id, answers in found.items()}

    def test(self, step_id: str) -> Test:
        """Return the test of a step."""
        return self.catalogue.tests[self.tree.steps[step_id].test]

    # --- single causes ----------------------------------------------------------------------------------------------

    @cached_property
    def _shown(self) -> Mapping[str, Mapping[int, Mapping[str, float]]]:
        """Test to cause number to what that cause is said to show there."""
        found: dict[str, dict[int, Mapping[str, float]]] = {}
        for number, cause in enumerate(self.causes):
            for test_id, shown in self.catalogue.causes[cause].shows.items():
                found.setdefault(test_id, {})[number] = shown
        return found

    def allowed(self, test: Test, outcome: str) -> int:
        """Return the causes that allow an outcome, as bits."""
        if outcome == NOT_DONE:
            return self.everything
        known = self._allowed.get(test.id)
        if known is None:
            known = self._allowed[test.id] = dict.fromkeys(test.outcome_ids(), 0)
            showing = 0
            for number, shown in self._shown.get(test.id, {}).items():
                bit = 1 << number
                showing |= bit
                for name, chance in shown.items():
                    if chance > 0 and name in known:
                        known[name] |= bit
            if test.healthy in known:  # a test that a cause does not name shows its healthy outcome
                known[test.healthy] |= self.everything & ~showing
        return known.get(outcome, 0)

    @cached_property
    def alive(self) -> Mapping[str, int]:
        """The causes that come to each reached step, as bits."""
        return self._flowed(self.everything, self.allowed)

    def _flowed(self, start: int, let_through: Callable[[Test, str], int]) -> dict[str, int]:
        """Return the bits that come to each reached step when those of `start` set out at the tree's start."""
        found = dict.fromkeys(self.order, 0)
        if not found:
            return found
        found[self.tree.start] = start
        place = {step_id: number for number, step_id in enumerate(self.order)}
        again = True
        while again:
            again = False
            for step_id in self.order:
                here, test = found[step_id], self.test(step_id)
                for outcome, target in self.onward(step_id):
                    added = here & let_through(test, outcome) & ~found[target]
                    if added:
                        found[target] |= added
                        again = again or place[target] <= place[step_id]
        return found

    def taking(self, step_id: str, outcome: str) -> int:
        """Return the causes that come to a step and allow the outcome there, as bits."""
        return self.alive[step_id] & self.allowed(self.test(step_id), outcome)

    def bit(self, cause: str) -> int:
        """Return the bit of a listed cause; 0 for any other."""
        number = self._numbers.get(cause)
        return 0 if number is None else 1 << number

    @cached_property
    def _numbers(self) -> Mapping[str, int]:
        return {cause: number for number, cause in enumerate(self.causes)}

    def names(self, bits: int) -> tuple[str, ...]:
        """Return the causes that bits stand for, likeliest first."""
        found = [cause for number, cause in enumerate(self.causes) if bits >> number & 1]
        return tuple(sorted(found, key=lambda cause: -self.tree.causes[cause]))

    # --- pairs of causes --------------------------------------------------------------------------------------------

    @cached_property
    def pairs(self) -> Mapping[str, int] | None:
        """The pairs of causes that come to each step along a common path, as bits (`square`); None: too many causes."""
        if len(self.causes) > MOST_PAIRED:
            return None
        square = cache(self.square)
        return self._flowed(square(self.everything), lambda test, outcome: square(self.allowed(test, outcome)))

    def square(self, bits: int) -> int:
        """Return all pairs (row, column) of the causes in `bits`, each with itself too: bit row * count + column."""
        count, found, rest = len(self.causes), 0, bits
        while rest:
            lowest = rest & -rest
            found |= bits << ((lowest.bit_length() - 1) * count)
            rest ^= lowest
        return found

    @cached_property
    def with_itself(self) -> int:
        """The pairs of each cause with itself."""
        count = len(self.causes)
        return sum(1 << (number * count + number) for number in range(count))

    def alike(self, test: Test) -> int:
        """Return the pairs of causes that a test cannot tell from each other, each cause with itself among them."""
        known = self._own_alike if test.id in self._apart else self._alike
        if test.id not in known:
            pairs = 0
            for group in self.groups(test):
                pairs |= self.square(group)
            known[test.id] = pairs
        return known[test.id]

    def groups(self, test: Test) -> tuple[int, ...]:
        """Return the causes that a test cannot tell from each other, each group as bits."""
        names = test.outcome_ids()
        healthy = tuple(100.0 if name == test.healthy else 0.0 for name in names)
        if test.mistake >= 100:  # every result is drawn at random
            return (self.everything,)
        found: dict[tuple[float, ...], int] = {}
        rest = self.everything
        for number, shown in self._shown.get(test.id, {}).items():
            column = tuple([shown.get(name, 0.0) for name in names])
            found[column] = found.get(column, 0) | 1 << number
            rest &= ~(1 << number)
        if rest:
            found[healthy] = found.get(healthy, 0) | rest
        return tuple(found.values())
