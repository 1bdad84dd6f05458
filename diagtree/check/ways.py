"""The shortest series of answers to a step or a branch, and a cause that gives them all."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

from diagtree.check.flow import Flow
from diagtree.knowledge.words import NOT_DONE, Target
from diagtree.reason.problem import stated_chance
from diagtree.records import dataclass

_MOST_CAUSES = 64
_MOST_REMEMBERED = 100_000
"""Causes that are tried for the shortest way, likeliest first; fewer in a tree of very many steps."""


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer on a way: at this step, this outcome."""

    step: str
    outcome: str


@dataclass(frozen=True, slots=True)
class Way:
    """Answers from the start on, in order, and the cause that gives them; None where no listed cause gives them all."""

    answers: tuple[Answer, ...]
    cause: str | None


class _Reached(NamedTuple):
    """The last answer on a shortest way to a step, None at the start, and the number of answers on it."""

    last: Answer | None
    length: int


class Ways:
    """Ways through one tree on one car."""

    def __init__(self, flow: Flow) -> None:
        self._flow = flow
        self._reached: dict[int, Mapping[str, _Reached]] = {}

    def to_step(self, step_id: str) -> Iterator[Way]:
        """Yield ways to a reached step, shortest first: of each cause that comes there, else one of no cause."""
        yield from self._from(step_id, self._flow.alive[step_id])

    def to_branch(self, step_id: str, outcome: str) -> Iterator[Way]:
        """Yield ways that end with an answer at a step: of each cause that gives it, else of those that come there."""
        flow, last = self._flow, Answer(step_id, outcome)
        taking = flow.taking(step_id, outcome)
        for way in self._from(step_id, taking or flow.alive[step_id]):
            yield Way((*way.answers, last), way.cause)

    def _from(self, step_id: str, causes: int) -> Iterator[Way]:
        most = max(1, min(_MOST_CAUSES, _MOST_REMEMBERED // (len(self._flow.order) + 1)))
        bits = [self._flow.bit(cause) for cause in self._flow.names(causes)[:most]]
        bits.sort(key=lambda bit: self._search(bit)[step_id].length)  # the sort keeps equal ones likeliest first
        for bit in bits:
            yield Way(self._answers(step_id, bit), self._flow.causes[bit.bit_length() - 1])
        if not bits:
            yield Way(self._answers(step_id, 0), None)

    def _answers(self, step_id: str, bit: int) -> tuple[Answer, ...]:
        found = self._search(bit)
        answers: list[Answer] = []
        last = found[step_id].last
        while last is not None:
            answers.append(last)
            last = found[last.step].last
        return tuple(reversed(answers))

    def _search(self, bit: int) -> Mapping[str, _Reached]:
        """Return how each step is reached by the shortest way: by the cause of this bit, by anybody where it is 0."""
        if bit not in self._reached:
            flow = self._flow
            found = {flow.tree.start: _Reached(None, 0)}
            waiting = deque(found)
            while waiting:
                here = waiting.popleft()
                test, length = flow.test(here), found[here].length + 1
                for outcome, target in flow.onward(here):
                    if target not in found and (not bit or flow.allowed(test, outcome) & bit):
                        found[target] = _Reached(Answer(here, outcome), length)
                        waiting.append(target)
            self._reached[bit] = found
        return self._reached[bit]

    def to_an_end(
        self, first: Target | None, given: Mapping[str, str], can_be: Callable[[str, str], bool], cause: str | None
    ) -> tuple[Answer, ...]:
        """Return the shortest answers from the step `first` to an ending of the tree; () where there are none.

        given : tests answered already, not asked again. can_be : whether an outcome can be answered at a step.
        """
        flow, bit = self._flow, 0 if cause is None else self._flow.bit(cause)
        if not isinstance(first, str) or first not in flow.branches:
            return ()
        before: dict[str, Answer | None] = {first: None}
        waiting = deque([first])
        while waiting:
            here = waiting.popleft()
            for outcome in self._outcomes(here, given, bit):
                target = flow.branches[here].get(outcome)
                if target is None or target in before or not can_be(here, outcome):
                    continue
                if not isinstance(target, str):
                    return (*_backwards(before, here), Answer(here, outcome))
                if target in flow.branches:
                    before[target] = Answer(here, outcome)
                    waiting.append(target)
        return ()

    def likeliest(self, cause: str, can_be: Callable[[str, str], bool]) -> tuple[Answer, ...]:
        """Return what a cause shows most often, step by step to an ending; () where that leads round in a loop.

        () too for a cause that the catalogue does not have: the reader tells it.
        """
        if cause not in self._flow.catalogue.causes:
            return ()
        flow, test_to = self._flow, dict[str, str]()
        answers: list[Answer] = []
        here: Target | None = flow.tree.start
        while isinstance(here, str):
            if here not in flow.branches or len(answers) > len(flow.order):
                return ()
            test = flow.test(here)
            listed = [name for name in test.outcome_ids() if name in flow.branches[here] and can_be(here, name)]
            if not listed:
                return ()
            shown = flow.catalogue.causes[cause]
            likely = max(listed, key=lambda name: stated_chance(test, shown, name))
            answers.append(Answer(here, test_to.setdefault(test.id, likely)))
            here = flow.branches[here].get(answers[-1].outcome)
        return tuple(answers) if here is not None else ()

    def _outcomes(self, step_id: str, given: Mapping[str, str], bit: int) -> list[str]:
        """Return the outcomes that may be answered at a step: first what the cause gives, a danger last."""
        test = self._flow.test(step_id)
        if test.id in given:
            return [given[test.id]]

        def late(name: str) -> tuple[bool, bool, bool]:
            return name in test.stop, name == NOT_DONE, not self._flow.allowed(test, name) & bit

        return sorted(self._flow.branches[step_id], key=late)


def _backwards(before: Mapping[str, Answer | None], here: str) -> tuple[Answer, ...]:
    answers: list[Answer] = []
    step = before[here]
    while step is not None:
        answers.append(step)
        step = before[step.step]
    return tuple(reversed(answers))
