"""Whether a danger stands in this case: found, not taken back, and nothing was mended since."""

from __future__ import annotations

from diagtree.walk.context import Walk
from diagtree.walk.dangers import NOTHING
from diagtree.walk.events import Answered, Looked, ProofJudged
from diagtree.walk.state import State


def danger_stands(walk: Walk, state: State) -> bool:
    """Return whether the first look or a test found a danger that no correction followed.

    The walk may have gone on in the tree that is made for it; its tests are then shown with one caution more.
    """
    stands = False
    for item in state.items:
        match item:
            case Looked(found=found):
                stands = stands or found != NOTHING
            case Answered(test=test, outcome=outcome):
                stands = stands or outcome in walk.test(test).stop
            case ProofJudged():  # a correction was made, and a charge ran after it
                stands = False
            case _:
                pass
    return stands
