"""Tests that come twice on a path. Linear in steps and branches: one bit for each test that several steps perform."""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.flow import Flow
from diagtree.check.ways import Answer
from diagtree.knowledge.words import NOT_DONE


def repeats(flow: Flow) -> tuple[str, ...]:
    """Return the steps whose test may have been answered on the way there. A step on a loop alone is no repeat.

    A test that was `not-done` the first time is not answered: to come back to it is no repeat.
    """
    performed: dict[str, int] = {}
    for step_id in flow.order:
        performed[flow.test(step_id).id] = performed.get(flow.test(step_id).id, 0) + 1
    bits = {test: 1 << n for n, test in enumerate(one for one, count in performed.items() if count > 1)}
    if not bits:
        return ()
    answered: dict[str, int] = {}
    place = {step_id: number for number, step_id in enumerate(flow.order)}
    found = []
    for step_id in flow.order:
        here = answered.pop(step_id, 0)  # no longer needed: the order is that of the branches, loops apart
        bit = bits.get(flow.test(step_id).id, 0)
        if here & bit:
            found.append(step_id)
        for outcome, target in flow.onward(step_id):
            if place[target] > place[step_id]:
                answered[target] = answered.get(target, 0) | here | (bit if outcome != NOT_DONE else 0)
    return tuple(found)


def way_between(flow: Flow, step_id: str) -> tuple[Answer, ...]:
    """Return answers from an earlier step with the same test to `step_id`, and there the same answer; () if none."""
    test = flow.test(step_id)
    onward: dict[str, Answer] = {}
    for answer in _backwards(flow, step_id, onward):
        if flow.test(answer.step).id == test.id and answer.outcome != NOT_DONE:
            answers = [answer]
            while (ahead := flow.branches[answers[-1].step][answers[-1].outcome]) != step_id:
                assert isinstance(ahead, str)
                answers.append(onward[ahead])
            return (*answers, Answer(step_id, answer.outcome))
    return ()


def _backwards(flow: Flow, step_id: str, onward: dict[str, Answer]) -> Iterator[Answer]:
    """Yield the answers that lead to `step_id`, nearest first; `onward` holds each step's way on."""
    layer = [step_id]
    while layer:
        ahead = []
        for here in layer:
            for answer in (Answer(*said) for said in flow.before[here]):
                yield answer
                if answer.step not in onward and answer.step != step_id:
                    onward[answer.step] = answer
                    ahead.append(answer.step)
        layer = ahead
