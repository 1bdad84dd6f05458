"""Why this test: what it tells, which causes it parts, where its limits come from."""

from __future__ import annotations

from diagtree.knowledge.words import Test
from diagtree.reason.evidence import telling
from diagtree.walk.ask_ending import cause_name, doubts, percent, ranking
from diagtree.walk.circuit_reasons import circuit_reasons
from diagtree.walk.context import Walk
from diagtree.walk.route import Route, ToTest, belief, route
from diagtree.walk.state import State


def why(walk: Walk, state: State) -> tuple[str, ...]:
    """Return the reasons for what is due now, a line each. No limit is given away as a number before the reading."""
    found = route(walk, state)
    beliefs = belief(walk, found)
    lines = ["Likeliest so far:", *ranking(walk, beliefs), *doubts(beliefs), *circuit_reasons(walk, state, found)]
    if isinstance(found.goal, ToTest):
        test = walk.test(found.goal.test)
        lines = [*_what_it_tells(walk, found, test), *_limits(test), *lines]
    return tuple(lines)


def _what_it_tells(walk: Walk, found: Route, test: Test) -> list[str]:
    beliefs = belief(walk, found)
    told = telling(beliefs.chances, test, walk.catalogue)
    lines = []
    if not told.parts:
        lines.append(f"{test.id} parts none of the causes that are left: it is here for the record.")
    for outcome, chance in told.outcomes.items():
        after = told.posterior.get(outcome)
        if after is None:
            continue
        likeliest, sure = max(after.items(), key=lambda item: item[1])
        lines.append(
            f"`{outcome}` in {percent(chance)} of such cars: "
            f"then most likely {cause_name(walk, likeliest)} ({percent(sure)})"
        )
    return lines


def _limits(test: Test) -> list[str]:
    lines = []
    if test.expected is not None:
        lines.append(f"The expected value is computed for this car: {test.expected.text}")
    if test.judge is not None and test.reads:
        lines.append(f"Judged is: {test.judge.text}. The limits are shown after the number is typed.")
    lines.append(f"Source: {test.source}")
    return lines
