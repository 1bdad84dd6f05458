"""What the sums say at a step of the tree: the act that the tree names beside the best from here.

The tree leads, the sums advise, the technician decides. Nothing here searches: values are handed in.
"""

from __future__ import annotations

from collections.abc import Sequence

from diagtree.knowledge.words import Conclude
from diagtree.reason.next_act import Advised, Present, clearly_dearer, present
from diagtree.reason.next_words import act_words
from diagtree.reason.plan import Act
from diagtree.records import dataclass
from diagtree.walk.context import Walk
from diagtree.walk.events import AdviceShown
from diagtree.walk.route import Route, ToDecide, ToTest, evidence_here
from diagtree.walk.state import State


@dataclass(frozen=True, slots=True)
class Comparison:
    """The tree's act is clearly dearer than another: by at least so much, whatever is not proven. [money]"""

    tree: Act
    evidence: Advised
    dearer: float


def case_of(walk: Walk, state: State, found: Route) -> Present:
    """Return the case of a walk as it stands, for the sums. Raises WrongUse where the house lacks a cost."""
    return present(
        walk.tree_of(found.tree), walk.catalogue, walk.house, evidence_here(walk, found), arrangement=state.arrangement,
        struck=found.struck, tried=state.corrected,
    )


def tree_says(walk: Walk, found: Route) -> Act | None:
    """Return what the tree says now: a test, or the correction or advice of the cause that it concluded."""
    if isinstance(found.goal, ToTest):
        return Act("test", found.goal.test) if found.goal.step is not None else None
    if isinstance(found.goal, ToDecide) and isinstance(found.ending, Conclude):
        advised = walk.catalogue.causes[found.ending.cause].correction is None
        return Act("advise" if advised else "correct", found.ending.cause)
    return None


def compare(walk: Walk, found: Route, acts: Sequence[Advised]) -> Comparison | None:
    """Return the comparison where the tree's act is clearly dearer than the best one; None otherwise.

    A test that looks for a danger is never talked down: it is not there for the money.
    """
    says = tree_says(walk, found)
    if says is None or says.id is None or (says.kind == "test" and walk.test(says.id).stop):
        return None
    best = clearly_dearer(acts, says.kind, says.id)
    if best is None:
        return None
    least = next(act.at_least for act in acts if (act.kind, act.id) == (says.kind, says.id))
    return Comparison(says, best, least - best.expected_cost)


def comparison_lines(one: Comparison) -> tuple[str, ...]:
    """Return the comparison in words, with the way to act on it."""
    best = Act(one.evidence.kind, one.evidence.id)
    if best.kind == "test":
        how = f"`do {best.id}`"
    else:  # at a conclusion the other ways stand among the answers
        how = "`do choose` (all that remains)" if one.tree.kind == "test" else "another answer below"
    priced = ", by what the house says a referral costs" if best.kind == "refer" else ""
    return (
        f"The tree says {act_words(one.tree)}; today's evidence says {act_words(best)}: "
        f"at least {one.dearer:,.0f} cheaper on average{priced}.",
        f"Why: {one.evidence.why}",
        f"You decide: go on here, or {how}. The record keeps both.",
    )


def shown(one: Comparison, at: str) -> AdviceShown:
    """Return the event that the comparison was shown."""
    best = Act(one.evidence.kind, one.evidence.id)
    return AdviceShown(at, act_words(one.tree), act_words(best), one.dearer)
