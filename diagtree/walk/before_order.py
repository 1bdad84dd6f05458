"""Before an expensive part is ordered: the cheap test, not yet done, that could still overturn the conclusion."""

from __future__ import annotations

from diagtree.knowledge.words import NOT_DONE, Cause
from diagtree.reason.arrangement import START, minutes_of
from diagtree.reason.evidence import Belief, telling
from diagtree.reason.problem import planned_tests
from diagtree.walk.context import Walk
from diagtree.walk.route import Route

_WORTH_TELLING = 0.01  # an outcome rarer than one in a hundred is no reason to hold an order


def overturning(walk: Walk, found: Route, beliefs: Belief, cause: Cause) -> str:
    """Return one sentence naming the cheapest test that could make another cause the likeliest, or ``.

    Only where a part is to be paid, and only a test that costs less than that part: minutes with the access it needs,
    from a closed and live car, at the house's rate.
    """
    correction = cause.correction
    if correction is None or correction.price <= 0:
        return ""
    best: tuple[float, str, float] | None = None
    done = {item.test for item in found.evidence if item.outcome != NOT_DONE}
    for test_id in planned_tests(walk.tree_of(found.tree), walk.catalogue):
        if test_id in done:
            continue
        test = walk.test(test_id)
        told = telling(beliefs.chances, test, walk.catalogue)
        chance = sum(
            probability
            for outcome, probability in told.outcomes.items()
            if probability >= _WORTH_TELLING
            and max(told.posterior[outcome].items(), key=lambda item: item[1])[0] != cause.id
        )
        minutes = test.minutes + minutes_of(walk.layout.moves(START, walk.layout.need_of(test)))
        price = minutes / 60 * walk.house.rate
        if chance > 0 and price < correction.price and (best is None or minutes < best[0]):
            best = (minutes, test_id, chance)
    if best is None:
        return "No cheaper test of this tree could still make another cause the likeliest."
    minutes, test_id, chance = best
    sure = beliefs.chances.get(cause.id, 0.0)
    return (
        f"Before you order, {correction.price:g} at {100 * sure:.0f} %: `{test_id}` ({minutes:g} min with its access) "
        f"could overturn this, chance {100 * chance:.0f} %."
    )
