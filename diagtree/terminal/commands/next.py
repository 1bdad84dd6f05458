"""Rank what could be done next in a case by what it is worth now, with the reason."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from diagtree.terminal.commands import FINE
from diagtree.terminal.options import json_option
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from diagtree.reason.next_act import Present
    from diagtree.terminal.run_walk import SavedWalk


@click.command("next")
@click.argument("case", metavar="CASE")
@click.option("--seconds", type=click.FloatRange(min=0), default=2.0, show_default=True,
              help="Time for the search; advice is better with more, and at once with 0.")
@json_option
@click.pass_obj
def next_(setting: Setting, case: str, seconds: float, as_json: bool) -> int:
    """Rank what could be done next in CASE by what the whole case is expected to cost after it, with the reason.

    It starts from the case as it stands: the answers so far, what is open and whether the car is dead, the tests done,
    the corrections that were in vain. It advises; the technician decides.
    """
    from diagtree.reason.next_act import before_order, clearly_dearer, next_acts, sharing
    from diagtree.reason.plan import Solver
    from diagtree.terminal.deadline import within
    from diagtree.terminal.run_walk import CLOSED, reopen
    from diagtree.terminal.views import next as view

    with setting.cases() as store:
        known = store.resolve(case)
        if known is None:
            from diagtree.errors import WrongUse

            raise WrongUse(f"there is no case `{case}` in {store.path}; `diagtree cases` lists what there is")
        saved = reopen(store, known)
        closed = store.row(known).status == CLOSED
    now, step = _present(saved)
    solver = Solver(now.problem)
    acts = next_acts(now, solver, out_of_time=within(seconds))
    kind, name = step
    better = clearly_dearer(acts, kind, name) if name else None
    overturn = before_order(now, solver, name, out_of_time=within(0)) if kind == "correct" and name else None
    page = view.Page(known, closed, now.doubt, acts, tuple(sharing(now)), step, better, overturn)
    if as_json:
        setting.document(view.document(page))
    else:
        for line in view.lines(page):
            setting.say(line)
    return FINE


def _present(saved: SavedWalk) -> tuple[Present, tuple[str, str | None]]:
    """Return the case as it stands, and what the tree says now: a test, or the cause that it concluded."""
    from diagtree.knowledge.words import Conclude
    from diagtree.reason.next_act import present
    from diagtree.walk.route import ToDecide, ToTest, route

    walk, state = saved.walk, saved.state
    found = route(walk, state)
    now = present(
        walk.tree_of(found.tree), walk.catalogue, walk.house, found.evidence, arrangement=state.arrangement,
        struck=found.struck, tried=state.corrected,
    )
    if isinstance(found.goal, ToTest):
        return now, ("test", found.goal.test)
    if isinstance(found.goal, ToDecide) and isinstance(found.ending, Conclude):
        advised = walk.catalogue.causes[found.ending.cause].correction is None
        return now, ("advise" if advised else "correct", found.ending.cause)
    return now, ("", None)


COMMAND = next_
