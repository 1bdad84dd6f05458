"""A strategy made better where it goes: every state that it leads to is searched in its own right.

From the start alone, a long search keeps to the acts that may still be best at the start, and what the policy does
further down is looked into last. Searched together, the states that the policy meets often find better ways on.
Source: policy improvement (Howard 1960), by search instead of one step.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from diagtree.reason.plan import Solver, State, Strategy, start

RARE = 0.002  # share of the cars below which a state is not searched in its own right


def improved(
    solver: Solver, state: State | None = None, *, whole: Callable[[], bool], out_of_time: Callable[[], bool]
) -> Strategy:
    """Return the best strategy from `state` (the start of the case by default), as `Solver.solve` does.

    whole : until it is true the search goes from `state`; then, until `out_of_time`, from all that its policy meets.
    """
    state = start(solver.problem) if state is None else state
    found = solver.solve(state, whole)
    if found.exact or out_of_time():
        return found
    solver.improve(state, out_of_time, least=RARE)
    return solver.solve(state, out_of_time)


def met(solver: Solver, state: State) -> Iterator[State]:
    """Give the states that the policy leads to from `state`, itself first, as far as they are not rare."""
    waiting = [state]
    while waiting:
        here = waiting.pop()
        yield here
        act = solver.act(here)
        if act is not None:
            waiting.extend(after for after in solver.after(here, act) if after.total >= max(RARE * state.total, 1e-300))
