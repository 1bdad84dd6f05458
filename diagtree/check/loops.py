"""Loops of a tree, and steps from which no ending can be reached. Linear in steps and branches, without recursion."""

from __future__ import annotations

from collections import deque

from diagtree.check.flow import Flow
from diagtree.check.ways import Answer


def components(flow: Flow) -> tuple[tuple[str, ...], ...]:
    """Return the sets of reached steps that lead to each other, each in the file's order; most hold one step.

    Source: M. Sharir, A strong-connectivity algorithm and its applications in data flow analysis (1981): the steps in
    reverse order of leaving them, then backwards from each. `flow.order` is that order.
    """
    place = {step_id: index for index, step_id in enumerate(flow.tree.steps)}
    seen: set[str] = set()
    found: list[tuple[str, ...]] = []
    for step_id in flow.order:
        if step_id in seen:
            continue
        seen.add(step_id)
        together, waiting = [step_id], [step_id]
        while waiting:
            for earlier, _ in flow.before[waiting.pop()]:
                if earlier not in seen:
                    seen.add(earlier)
                    together.append(earlier)
                    waiting.append(earlier)
        found.append(tuple(sorted(together, key=place.__getitem__)))
    return tuple(found)


def loops(flow: Flow) -> tuple[tuple[Answer, ...], ...]:
    """Return one shortest loop of each set of steps that lead to each other, as answers around it.

    It begins at the step that stands first in the file, so that the last answer is the one that leads back.
    """
    return tuple(_around(flow, together) for together in components(flow) if _leads_back(flow, together))


def _leads_back(flow: Flow, together: tuple[str, ...]) -> bool:
    return len(together) > 1 or any(target == together[0] for _, target in flow.onward(together[0]))


def _around(flow: Flow, together: tuple[str, ...]) -> tuple[Answer, ...]:
    first, inside = together[0], frozenset(together)
    before: dict[str, Answer] = {}
    waiting = deque([first])
    while waiting:
        here = waiting.popleft()
        for outcome, target in flow.onward(here):
            if target == first:
                return (*_back(before, here, first), Answer(here, outcome))
            if target in inside and target not in before:
                before[target] = Answer(here, outcome)
                waiting.append(target)
    return ()


def _back(before: dict[str, Answer], here: str, first: str) -> tuple[Answer, ...]:
    answers = []
    while here != first:
        answers.append(before[here])
        here = before[here].step
    return tuple(reversed(answers))


def dead_ends(flow: Flow) -> tuple[tuple[str, tuple[Answer, ...]], ...]:
    """Return where walks are caught: each step without any way on, and each first step of a loop without a way out.

    With it, the answers around that loop; () where there is no way on at all.
    """
    caught = _without_ending(flow)
    return tuple(
        (together[0], _around(flow, together))
        for together in components(flow)
        if together[0] in caught and _is_closed(flow, frozenset(together))
    )


def _is_closed(flow: Flow, together: frozenset[str]) -> bool:
    return all(target in together for step_id in together for _, target in flow.onward(step_id))


def _without_ending(flow: Flow) -> frozenset[str]:
    """Return the reached steps from which no answers lead to an ending."""
    waiting = [
        step_id
        for step_id in flow.order
        if any(not isinstance(target, str) for target in flow.branches[step_id].values())
    ]
    ends = set(waiting)
    while waiting:
        for earlier, _ in flow.before[waiting.pop()]:
            if earlier not in ends:
                ends.add(earlier)
                waiting.append(earlier)
    return frozenset(flow.order) - ends
