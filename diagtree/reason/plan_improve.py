"""A strategy made better where it goes: a short search of the whole, then its policy is bettered point by point.

From the start alone, a long search keeps to the acts that may still be best at the start, and what the policy does
further down is looked into last, each state on its own. `plan_rewrite` betters all states that the policy meets, and
what it finds in one serves all others. Time that is left then goes to the search again, from where the policy goes.
Source: policy improvement (Howard 1960).
"""

from __future__ import annotations

from collections.abc import Callable

from diagtree.reason.plan import Solver, State, Strategy, start

RARE = 0.002  # share of the cars below which what the better policy does is not looked into by the search
SHARED = 0.5  # part of a search's memory for the whole where a tree is priced after it: the tree's states want the rest


def improved(
    solver: Solver, state: State | None = None, *, whole: Callable[[], bool], out_of_time: Callable[[], bool],
    room: float = 1.0,
) -> Strategy:
    """Return the best strategy from `state` (the start of the case by default), as `Solver.solve` does.

    whole : until it is true the search goes from `state`; then, until `out_of_time`, its policy is made better.
    room : part of a search's memory that the search may fill, the policy's betterment aside; the rest is for states
        that are asked for afterwards. [-]
    """

    def over(ends: Callable[[], bool]) -> Callable[[], bool]:
        return lambda: ends() or solver.filled > room

    state = start(solver.problem) if state is None else state
    found = solver.solve(state, over(whole))
    if found.exact or out_of_time():
        return found
    solver.improve(state, out_of_time, least=RARE)
    return solver.solve(state, over(out_of_time))
